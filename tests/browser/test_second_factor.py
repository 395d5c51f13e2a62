"""A code at sign-in, in a browser: looked at on a phone, and done at a desk by keyboard alone."""

from __future__ import annotations

from pyotp import TOTP


def secret_on(screen):
    return screen.page.locator(".code__address").inner_text().replace(" ", "")


def test_setting_it_up_and_signing_in_with_a_code_on_paper_on_a_phone(phone, people):
    phone.sign_in(people["foreman"])
    phone.open("/account/second-factor")
    phone.press("Set it up")
    phone.fill(code="000000")
    phone.press("Turn it on")
    assert phone.page.evaluate("document.activeElement.className") == "errors"
    phone.fill(code=TOTP(secret_on(phone)).now())
    phone.press("Turn it on")
    assert phone.heading == "Write these codes down now"
    first, second = phone.page.locator(".code__list li").all_inner_texts()[:2]
    phone.press("They are written down")
    phone.press("New codes on paper")
    phone.open("/account")
    phone.press("Sign out")

    phone.press("Sign in again")
    phone.fill(sign_in_name=people["foreman"].sign_in_name, password=people["foreman"].password)
    phone.page.locator("main").get_by_role("button", name="Sign in").click()
    phone.page.wait_for_url("**/sign-in/code**")
    phone.look()
    phone.press("No phone at hand? Use a code on paper")
    phone.fill(code=first.upper())
    phone.press("Sign in")
    phone.open("/account/second-factor/off")
    phone.fill(password=people["foreman"].password, code=second)
    phone.press("Turn it off")

    assert "It is off" in phone.page.locator("main").inner_text()


def test_a_keyboard_is_enough(desk, people):
    desk.sign_in(people["owner"])
    keys = desk.page.keyboard

    def tab_to(name):
        for _ in range(60):
            keys.press("Tab")
            if desk.page.evaluate("document.activeElement.innerText || document.activeElement.name") == name:
                return
        raise AssertionError(f"no way to {name} with the Tab key on {desk.path}")

    desk.open("/account/second-factor")
    tab_to("Set it up")
    with desk.page.expect_navigation():
        keys.press("Enter")
    tab_to("code")
    keys.type(TOTP(secret_on(desk)).now())
    with desk.page.expect_navigation():
        keys.press("Enter")
    assert desk.heading == "Write these codes down now"
    tab_to("They are written down")
    with desk.page.expect_navigation():
        keys.press("Enter")

    assert desk.page.locator("main").inner_text().count("It is on") == 1
