"""The bench in a browser: with a thumb, with keys alone, and on one sheet of paper."""

from __future__ import annotations

import re

import pytest

SADDLE = "height=4-1/2&distance=52-3/8&centre_angle=45&shoe=3/4&job=Pump+room"
FOUR_POINT = "height=4&width=12&distance=52-3/8&angle=30&shoe=3/4&run=12+in+%2B+40+ft+%2B+12+in"
WIDE = "radius=30&angle=90&shots=15&distance=60&shoe=3/4"
FLAT = "() => document.querySelector('.mark__position').textContent.replace(/[\\u2060]/g, '').replace(/\\u00a0/g, ' ')"


@pytest.mark.parametrize(
    "path",
    [
        "/bench",
        "/bench/offset",
        f"/bench/three-point-saddle?{SADDLE}",
        f"/bench/four-point-saddle?{FOUR_POINT}",
        f"/bench/three-point-saddle/slip?{SADDLE}",
        f"/bench/three-point-saddle/wrong?{SADDLE}&measured=4-7/8",
        "/bench/offset?depth=banana&distance=&angle=95",
        "/bench/shoes",
    ],
)
def test_each_page_of_the_bench_can_be_used_by_everybody(screen, people, path):
    screen.sign_in(people["apprentice"])

    screen.open(path)


def test_marks_at_the_wall_with_a_thumb(phone, people):
    phone.sign_in(people["apprentice"])
    phone.press("Bench")
    phone.page.get_by_text("Three-point saddle", exact=True).click()
    phone.page.wait_for_url("**/bench/three-point-saddle")
    phone.fill(height="4 1/2", distance="4' 4-3/8\"")
    phone.page.select_option("[name=shoe]", "3/4")
    phone.press("Show me the marks")

    assert phone.page.evaluate(FLAT) == "53-1/4 in"
    assert phone.page.locator(".mark").count() == 3
    # The first mark is in sight without scrolling: what was typed stands below.
    assert phone.page.locator(".mark__position").first.bounding_box()["y"] < 844

    phone.press("It came out wrong")
    phone.fill(measured="4-7/8")
    phone.press("What went wrong?")
    assert "over-bent" in phone.page.locator(".causes").inner_text()


def test_keys_alone_are_enough(desk, people):
    desk.sign_in(people["apprentice"])
    desk.open("/bench/offset")
    keys = desk.page.keyboard
    desk.page.focus("[name=depth]")
    for text in ("6", "52-3/8", "30"):
        keys.press("Control+A")
        keys.type(text)
        keys.press("Tab")
    desk.page.focus("[name=angle]")
    with desk.page.expect_navigation():
        keys.press("Enter")
    desk.look()

    assert desk.page.evaluate(FLAT) == "53-7/8 in"


def test_without_script_it_works_as_well(screens, people):
    screen = screens("phone", script=False)
    screen.page.goto(screen.base + "/sign-in")
    screen.fill(sign_in_name=people["apprentice"].sign_in_name, password=people["apprentice"].password)
    screen.page.locator("main").get_by_role("button", name="Sign in").click()
    screen.page.goto(screen.base + "/bench/stub-up")
    screen.fill(stub_height="12")
    screen.page.get_by_role("button", name="Show me the marks").click()

    assert "7 in" in screen.page.locator(".mark__position").inner_text().replace("\u00a0", " ").replace("\u2060", "")


def test_a_foreman_measures_a_shoe_and_it_goes_first(screens, people):
    foreman = screens("phone")
    foreman.sign_in(people["foreman"])
    foreman.open("/bench/shoes")
    foreman.press("Measure a shoe")
    foreman.page.select_option("[name=trade_size]", "3/4")
    foreman.fill(stick="36", mark="7-15/16", stub="14", other_leg="25-1/4")
    foreman.press("What does it measure?")
    foreman.fill(name="3/4, yellow handle")
    foreman.press("Keep this shoe")

    assert foreman.heading == "Shoes"
    foreman.open("/bench/offset")
    assert foreman.page.locator("[name=shoe] option").first.inner_text() == "3/4, yellow handle (3/4)"


@pytest.mark.parametrize(
    ("path", "marks"),
    [
        ("stub-up/slip?stub_height=12&shoe=3/4", 1),
        (f"three-point-saddle/slip?{SADDLE}", 3),
        (f"four-point-saddle/slip?{FOUR_POINT}", 4),
        (f"wide-bend/slip?{WIDE}", 15),
    ],
)
@pytest.mark.parametrize("paper", ["Letter", "A4"])
def test_a_slip_is_one_sheet_of_paper(desk, people, path, marks, paper):
    desk.sign_in(people["apprentice"])
    desk.page.goto(f"{desk.base}/bench/{path}")

    printed = desk.page.pdf(format=paper)

    assert desk.page.locator(".mark").count() == marks
    assert len(re.findall(rb"/Type\s*/Page\b", printed)) == 1
