"""The leaders' way in a browser: each page as it looks, and giving work with one thumb, with keys, and without script."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from sqlalchemy import select

from trainer.accounts.sessions import open_session
from trainer.records.engine import Database
from trainer.records.models import AssignedWork, Group, Organisation, Person, Problem


@pytest.fixture
def records(site, tmp_path):
    """The records of the site that is served."""
    assert site
    opened = Database(f"sqlite:///{tmp_path / 'site.db'}")
    yield opened
    opened.close()


@pytest.fixture
def found(records):
    """Public ids of the demo site's things."""

    def one(what, *conditions):
        with records.read() as session:
            return session.scalars(select(what.public_id).where(*conditions)).first()

    return {
        "class": one(Group, Group.kind == "class"),
        "crew": one(Group, Group.kind == "crew"),
        "shop": one(Organisation, Organisation.kind == "shop"),
        "work": one(AssignedWork, AssignedWork.title == "Straps and wet places"),
        "apprentice": one(Person, Person.sign_in_name == "apprentice"),
        "foreman": one(Person, Person.sign_in_name == "foreman"),
    }


@pytest.fixture
def come_in(records):
    """Lets a screen in as somebody whose password nobody is told."""

    def enter(screen, sign_in_name):
        with records.write() as session:
            person = session.scalars(select(Person).where(Person.sign_in_name == sign_in_name)).one()
            person.must_change_password = False
            token, _ = open_session(session, person.id, "a browser", datetime.now(UTC))
        screen.page.context.add_cookies([{"name": "trainer-reader", "value": token, "url": screen.base}])

    return enter


def give(screen, title):
    """From the group's page to work that is given."""
    screen.press("Give work")
    screen.page.locator("#skill-bends-offset summary").click()
    screen.page.select_option("#count-offset-spacing", "2")
    screen.press("Go on with these")
    screen.fill(title=title)
    screen.press("Give this work")


def test_each_page_of_a_class(screen, come_in, found, records):
    come_in(screen, "instructor")
    group, work = f"/groups/{found['class']}", f"/given/{found['work']}"
    with records.read() as session:
        problem, person = session.execute(
            select(Problem.public_id, Person.public_id)
            .join(Person, Person.id == Problem.person_id)
            .where(Problem.context == "assigned", Problem.family_id == "fittings-that-belong")
        ).first()

    for path in (
        "/groups",
        group,
        f"{group}/people/{person}",
        f"{group}/people/{person}/problems/{problem}",
        f"{group}/skills",
        f"{group}/work/new",
        f"{group}/work/new/name",
        f"{group}/work/new/name?count-offset-spacing=2&count-strap-count=1",
        f"{group}/questions/offset-spacing",
        f"{group}/questions/connector-for-the-job",
        work,
        f"{work}/lines/1",
        f"{work}/withdraw",
    ):
        screen.open(path)


def test_each_page_of_a_crew(screen, come_in, found):
    come_in(screen, "owner")
    group, staff = f"/groups/{found['crew']}", f"/organisations/{found['shop']}/staff"
    person = f"{group}/people/{found['apprentice']}"

    for path in (
        "/groups",
        group,
        f"{group}/skills",
        person,
        f"{person}/skills/supports.straps",
        staff,
        f"{staff}/{found['foreman']}/dismiss",
    ):
        screen.open(path)


def test_each_page_of_the_site(screen, come_in, found):
    come_in(screen, "administrator")
    for path in ("/site", "/site/organisations/new", "/site/people/password", f"/organisations/{found['shop']}/staff"):
        screen.open(path)
    screen.open("/site/people/new")
    screen.fill(display_name="Rosa Diaz", sign_in_name="rosa.diaz")
    screen.press("Make the account")

    assert screen.heading == "Write this down now"


def test_a_class_is_made_and_given_work_with_one_thumb(phone, people):
    phone.sign_in(people["instructor"])
    phone.page.get_by_text("Make a class", exact=True).first.click()
    phone.fill(name="Saturday class")
    phone.press("Make a class")
    assert phone.heading == "Saturday class"

    give(phone, "First offsets")

    assert phone.heading == "Saturday class"
    assert "First offsets" in phone.page.locator("main").inner_text()


def test_the_code_fills_the_width_and_one_tap_takes_all_of_it(screen, come_in, found):
    come_in(screen, "instructor")
    screen.open(f"/groups/{found['class']}")
    signs = screen.page.locator(".code__signs")
    signs.click()

    assert screen.page.evaluate("getSelection().toString().trim()") == signs.inner_text()
    assert signs.evaluate("one => one.getBoundingClientRect().height") > 40
    assert signs.evaluate("one => one.scrollWidth <= one.clientWidth")


def test_a_sample_on_the_way_keeps_what_was_chosen(desk, come_in, found):
    come_in(desk, "instructor")
    desk.open(f"/groups/{found['class']}/work/new")
    desk.page.locator("#skill-supports-straps summary").click()
    desk.page.select_option("#count-strap-count", "3")
    desk.page.locator("#skill-bends-offset summary").click()
    desk.press("See one Distance between the marks of an offset")
    desk.press("With other numbers")
    desk.press("Back")

    assert desk.page.input_value("#count-strap-count") == "3"


def test_only_what_is_filled_in_is_sent(desk, come_in, found):
    come_in(desk, "instructor")
    desk.open(f"/groups/{found['class']}/work/new")
    desk.page.locator("#skill-supports-straps summary").click()
    desk.page.select_option("#count-strap-count", "3")
    desk.press("Go on with these")

    assert desk.path.partition("?")[2] == "count-strap-count=3"


def test_what_is_wrong_is_told_where_the_reader_is(screen, come_in, found):
    come_in(screen, "instructor")
    screen.open(f"/groups/{found['class']}/work/new")
    screen.press("Go on with these")
    assert screen.page.evaluate("document.activeElement.className") == "errors"

    screen.page.locator("#skill-supports-straps summary").click()
    screen.page.select_option("#count-strap-count", "1")
    screen.press("Go on with these")
    screen.fill(title="", due_on="2020-01-01")
    screen.press("Give this work")
    assert screen.page.evaluate("document.activeElement.className") == "errors"
    screen.page.get_by_role("link", name="Type what to call it").click()
    assert screen.page.evaluate("document.activeElement.id") == "title"


def test_keys_are_enough_to_give_work(desk, come_in, found):
    come_in(desk, "instructor")
    desk.open(f"/groups/{found['class']}/work/new")
    keys = desk.page.keyboard
    desk.page.locator("#skill-supports-straps summary").focus()
    keys.press("Enter")
    desk.page.locator("#count-strap-count").focus()
    keys.press("2")
    for _ in range(desk.page.locator("main :is(a, button, input, select, summary)").count()):
        keys.press("Tab")
        if desk.page.evaluate("document.activeElement.textContent.trim()") == "Go on with these":
            break
    with desk.page.expect_navigation():
        keys.press("Enter")
    desk.page.locator("#title").focus()
    keys.type("By keys alone")
    with desk.page.expect_navigation():
        keys.press("Enter")

    assert desk.heading == "First year, Tuesday night"
    assert "By keys alone" in desk.page.locator("main").inner_text()


@pytest.mark.parametrize("size", ["phone", "desk"])
def test_giving_work_and_taking_it_back_needs_no_script(screens, come_in, found, size):
    screen = screens(size, script=False)
    page = screen.page
    come_in(screen, "instructor")
    page.goto(f"{screen.base}/groups/{found['class']}/work/new")
    page.locator("#skill-bends-offset summary").click()
    page.select_option("#count-offset-spacing", "1")
    page.get_by_role("button", name="Go on with these").click()
    page.fill("[name=title]", "Without script")
    page.get_by_role("button", name="Give this work").click()
    page.get_by_role("link", name="Without script").click()
    page.get_by_role("link", name="Take this work back").click()
    page.get_by_role("button", name="Take it back").click()

    assert page.get_by_role("status").inner_text() == "Without script is taken back."
