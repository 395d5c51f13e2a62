"""Account pages in a browser: as they look, by keyboard alone, and without script."""

from __future__ import annotations

import pytest

#: What has the focus, and whether a ring of 3 px or more stands around it or around the row or frame that it is in.
FOCUS = """() => {
    const style = getComputedStyle(document.activeElement.closest('.measure, .choice') ?? document.activeElement);
    const ringed = style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 3;
    return [document.activeElement.outerHTML.slice(0, 160), ringed];
}"""


def test_signing_in_and_out(screen, people):
    screen.sign_in(people["apprentice"])
    screen.open("/account")
    screen.press("Sign out")

    assert screen.heading == "You are signed out"


@pytest.mark.parametrize(
    "path",
    ["/", "/sign-in", "/join", "/account", "/account/held", "/account/devices", "/account/password", "/account/name"],
)
def test_each_page_can_be_used_by_everybody(screen, people, path):
    if path.startswith("/account"):
        screen.sign_in(people["apprentice"])

    screen.open(path)


def test_what_is_wrong_in_a_form_is_told_where_the_reader_is(screen):
    screen.open("/sign-in")
    screen.page.locator("main").get_by_role("button", name="Sign in").click()
    screen.look()

    assert screen.page.evaluate("document.activeElement.className") == "errors"
    screen.page.get_by_role("link", name="Type your password.").click()
    assert screen.page.evaluate("document.activeElement.id") == "password"


def test_a_keyboard_is_enough_to_sign_in(desk, people):
    desk.open("/sign-in")
    keys = desk.page.keyboard
    keys.press("Tab")
    assert desk.page.evaluate("document.activeElement.className") == "skip"
    keys.press("Enter")
    keys.press("Tab")
    keys.type(people["apprentice"].sign_in_name)
    keys.press("Tab")
    keys.type(people["apprentice"].password)
    with desk.page.expect_navigation():
        keys.press("Enter")

    desk.open("/account")
    assert desk.heading == "Your account"


@pytest.mark.parametrize(("size", "scheme"), [("phone", "light"), ("desk", "dark")])
def test_whatever_has_the_focus_shows_it(screens, size, scheme):
    screen = screens(size, scheme)
    screen.open("/look")
    # The page starts at the summary of errors; go round all of it from its top.
    screen.page.evaluate("document.activeElement.blur(); window.getSelection().collapse(document.body, 0)")
    reached = set()
    while True:
        screen.page.keyboard.press("Tab")
        name, ringed = screen.page.evaluate(FOCUS)
        if name in reached or name.startswith("<body"):
            break
        reached.add(name)
        assert ringed, f"{name} has the focus and does not show it"

    assert len(reached) > 20


@pytest.mark.parametrize("size", ["phone", "desk"])
def test_it_all_works_without_script(screens, people, size):
    screen = screens(size, script=False)
    page = screen.page
    page.goto(screen.base + "/sign-in")
    page.fill("[name=sign_in_name]", people["apprentice"].sign_in_name)
    page.fill("[name=password]", people["apprentice"].password)
    page.click("main button")

    page.goto(screen.base + "/account/held")
    page.get_by_label("What you typed in practice").first.check()
    page.get_by_role("button", name="Save what they see").first.click()

    assert page.get_by_role("status").inner_text().endswith("sees is saved.")
    assert page.get_by_label("What you typed in practice").first.is_checked()


def test_a_second_tap_does_not_send_a_form_twice(phone):
    phone.open("/sign-in")

    held_back = phone.page.evaluate(
        """() => {
            const seen = [];
            addEventListener('submit', event => { seen.push(event.defaultPrevented); event.preventDefault(); });
            const button = document.querySelector('main button');
            button.click();
            button.click();
            return seen;
        }"""
    )

    assert held_back == [False, True]
