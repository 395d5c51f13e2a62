"""A code at sign-in: setting it up, the second step, what asks for the password anew, who has to have it."""

from __future__ import annotations

from datetime import timedelta

import pytest
from pyotp import TOTP

APP = "/account/second-factor"


class WithApp:
    """A browser of somebody who has an app for codes; the clock moves on with each code."""

    def __init__(self, browser, clock):
        self.browser, self.clock = browser, clock
        browser.submit(APP, action=f"{APP}/begin")
        page = browser.get(f"{APP}/set-up")
        self.page = page
        address = next(one for one in page.links() if one.startswith("otpauth:"))
        self.app = TOTP(address.split("secret=")[1].split("&")[0])
        self.made = browser.submit(f"{APP}/set-up", {"code": self.code()})
        self.paper = [one.text for one in self.made.tree.iter("li") if one.text and one.text.count("-") == 3]

    def code(self):
        self.clock.forward(seconds=30)
        return self.app.at(self.clock.now)


@pytest.fixture
def with_app(client_of, clock):
    return lambda who="instructor": WithApp(client_of(who), clock)


@pytest.fixture
def password_typed(client, world):
    """A browser in which the instructor's name and password were typed."""

    def typed(browser=client, path="/sign-in"):
        return browser, browser.submit(path, {"sign_in_name": "instructor", "password": world.password})

    return typed


def test_the_page_for_the_app_shows_the_secret_once_and_keeps_it_nowhere(with_app):
    kim = with_app()

    assert kim.page.headers["Cache-Control"] == "no-store"
    assert kim.app.secret in kim.page.words.replace(" ", "")
    assert kim.page.tree.find(".//div[@class='readable']/{http://www.w3.org/2000/svg}svg") is not None
    assert kim.browser.get(f"{APP}/set-up").location == APP


def test_the_first_code_turns_it_on_and_shows_ten_codes_on_paper_this_once(with_app):
    kim = with_app()

    assert kim.made.status == 201
    assert kim.made.headers["Cache-Control"] == "no-store"
    assert len({*kim.paper}) == 10
    page = kim.browser.get(APP)
    assert "It is on" in page.words
    assert not any(code in page.text for code in kim.paper)


def test_a_wrong_first_code_is_told_beside_its_field(client_of):
    browser = client_of("learner")
    browser.submit(APP, action=f"{APP}/begin")

    page = browser.submit(f"{APP}/set-up", {"code": "000000"})

    assert page.status == 422
    assert "not the code that the app shows now" in page.errors["code"]


def test_signing_in_asks_for_the_code_and_goes_where_the_person_came_for(with_app, password_typed):
    kim = with_app()
    browser, page = password_typed(path="/sign-in?next=/account/devices")
    assert page.location == "/sign-in/code?next=/account/devices"

    page = browser.submit(page.location, {"code": kim.code()})

    assert page.location == "/account/devices"
    assert browser.get("/account").status == 200


def test_a_code_on_paper_stands_in_for_the_app(with_app, password_typed):
    kim = with_app()
    browser, page = password_typed()

    page = browser.submit("/sign-in/code?paper=yes", {"code": kim.paper[0].upper()})

    assert page.location == "/"
    assert browser.get("/account").status == 200


def test_who_has_none_meets_the_sign_in_of_before(client, world):
    page = client.get("/sign-in")

    assert {*page.form("/sign-in")} == {"csrf_token", "sign_in_name", "password"}
    assert client.submit("/sign-in", {"sign_in_name": "learner", "password": world.password}).location == "/"


def test_the_password_alone_opens_nothing(with_app, password_typed):
    with_app()
    browser, _ = password_typed()

    for path in ("/account", "/today", APP, "/account/password", f"{APP}/off", "/account/prove"):
        assert browser.get(path).location.startswith("/sign-in"), path


def test_the_token_of_the_first_step_is_no_session_and_that_of_the_session_another(with_app, password_typed):
    kim = with_app()
    browser, _ = password_typed()
    half = browser.client.get_cookie("trainer-half").value
    assert browser.client.get_cookie("trainer-reader") is None
    browser.client.set_cookie("trainer-reader", half)
    assert browser.get("/account").status == 303
    browser.client.delete_cookie("trainer-reader")

    browser.submit("/sign-in/code", {"code": kim.code()})

    assert browser.client.get_cookie("trainer-reader").value != half
    assert browser.client.get_cookie("trainer-half") is None


def test_the_cookie_of_the_first_step_is_kept_from_scripts_and_from_other_sites(with_app, password_typed):
    with_app()
    _, page = password_typed()

    cookie = next(one for one in page.headers.getlist("Set-Cookie") if one.startswith("trainer-half="))
    assert "HttpOnly" in cookie
    assert "SameSite=Lax" in cookie


def test_after_ten_minutes_it_begins_again(with_app, password_typed, clock):
    with_app()
    browser, _ = password_typed()
    clock.forward(minutes=10)

    assert browser.get("/sign-in/code").location == "/sign-in"
    assert "Begin again" in browser.get("/sign-in").words


def test_a_code_counts_once(client, app, with_app, password_typed):
    kim = with_app()
    code = kim.code()
    browser, _ = password_typed()
    assert browser.submit("/sign-in/code", {"code": code}).status == 303
    other = type(client)(app)
    password_typed(other)

    page = other.submit("/sign-in/code", {"code": code})

    assert page.status == 422
    assert "used already" in page.errors["code"]


def test_guessing_is_slowed_down(with_app, password_typed):
    kim = with_app()
    browser, _ = password_typed()
    for _ in range(5):
        browser.submit("/sign-in/code", {"code": "000000"})

    assert browser.submit("/sign-in/code", {"code": kim.code()}).status == 429


def test_a_typed_code_is_not_written_back_elsewhere_than_into_its_field(with_app, password_typed):
    with_app()
    browser, _ = password_typed()

    page = browser.submit("/sign-in/code?next=//elsewhere.example", {"code": "<b>1</b>"})

    assert "<b>1" not in page.text
    assert "elsewhere" not in page.text


def test_turning_it_off_takes_password_and_code(with_app, world, password_typed):
    kim = with_app()
    off = f"{APP}/off"

    wrong = kim.browser.submit(off, {"password": "something else", "code": kim.code()})
    assert "not your present password" in wrong.errors["password"]
    wrong = kim.browser.submit(off, {"password": world.password, "code": "000000"})
    assert "not right" in wrong.errors["code"]
    assert kim.browser.submit(off, {"password": world.password, "code": kim.code()}).location == APP
    assert "It is off" in kim.browser.get(APP).words
    assert password_typed()[1].location == "/"


def test_new_codes_on_paper_take_a_code_and_replace_the_old(with_app, password_typed):
    kim = with_app()

    assert kim.browser.submit(f"{APP}/codes", {"code": "000000"}).status == 422
    page = kim.browser.submit(f"{APP}/codes", {"code": kim.code()})

    assert page.status == 201
    assert not any(code in page.text for code in kim.paper)
    browser, _ = password_typed()
    assert browser.submit("/sign-in/code?paper=yes", {"code": kim.paper[0]}).status == 422


def test_what_is_dear_to_change_asks_for_the_password_where_the_sign_in_is_old(client_of, clock, world):
    browser = client_of("learner")
    clock.forward(minutes=16)

    page = browser.submit(APP, action=f"{APP}/begin")
    assert page.location == "/account/prove"
    page = browser.get(f"{APP}/set-up")
    assert page.location == f"/account/prove?next={APP}/set-up"
    wrong = browser.submit(page.location, {"password": "something else"})
    assert "not your present password" in wrong.errors["password"]
    held = browser.client.get_cookie("trainer-reader").value
    assert browser.submit(page.location, {"password": world.password}).location == f"{APP}/set-up"
    assert browser.client.get_cookie("trainer-reader").value != held
    assert browser.submit(APP, action=f"{APP}/begin").location == f"{APP}/set-up"


@pytest.mark.parametrize(
    ("who", "path"),
    [
        ("learner", "/account/delete"),
        ("administrator", "/site/people/password"),
        ("administrator", "/site/people/lost-phone"),
    ],
)
def test_a_browser_that_was_left_open_deletes_nobody_and_lets_nobody_in(client_of, clock, who, path):
    browser = client_of(who)
    form = browser.get(path).form(path)
    clock.forward(minutes=16)

    assert browser.get(path).location == f"/account/prove?next={path}"
    assert browser.post(path, form | {"sign_in_name": "learner"}).location == f"/account/prove?next={path}"
    assert client_of("learner").get("/account").status == 200


def test_the_page_for_the_password_leads_to_no_other_site(client_of, world):
    page = client_of("learner").submit("/account/prove?next=//elsewhere.example", {"password": world.password})

    assert page.location == "/account"


def test_who_lost_the_phone_is_let_in_by_whoever_looks_after_the_site_and_reads_of_it(
    with_app, client_of, password_typed
):
    kim = with_app()
    chief = client_of("administrator")

    assert chief.submit("/site/people/lost-phone", {"sign_in_name": "learner"}).status == 422
    assert chief.submit("/site/people/lost-phone", {"sign_in_name": "Instructor"}).location == "/site"

    assert kim.browser.get("/account").status == 303
    browser, page = password_typed()
    assert page.location == "/"
    assert "taken away because phone and paper were lost" in browser.get("/account/held").words


def test_an_administrator_does_not_get_around_the_own_code(with_app):
    chief = with_app("administrator")

    page = chief.browser.submit("/site/people/lost-phone", {"sign_in_name": "administrator"})

    assert page.errors["sign_in_name"].startswith("Turn your own off")


@pytest.fixture
def asked(client_of, world):
    """The owner of the school asks its instructors for a code."""
    path = f"/organisations/{world.organisations['school']}/sign-in"
    owner = client_of("owner")
    form = owner.get(path).form(path)
    return owner, path, owner.post(path, form | {"roles": "instructor"})


def test_an_owner_asks_a_role_for_it_and_those_without_are_led_to_set_it_up(asked, client_of, with_app):
    owner, path, answer = asked
    assert answer.location == path
    browser = client_of("instructor")

    assert browser.get("/groups").location == APP
    page = browser.get(APP)
    assert "asks everybody with your role" in page.words
    assert "/groups" not in page.links()
    assert owner.get("/groups").status == 200
    assert client_of("learner").get("/today").status == 200
    assert client_of("foreman").get("/groups").status == 200
    assert with_app().browser.get("/groups").status == 200


def test_who_has_still_to_set_it_up_may_sign_out_and_change_the_password(asked, client_of):
    assert asked
    browser = client_of("instructor")

    assert browser.get("/account/password").status == 200
    assert browser.submit(APP, action="/sign-out").location == "/signed-out"


def test_an_owner_asks_no_role_that_there_is_not(client_of, world):
    path = f"/organisations/{world.organisations['school']}/sign-in"
    owner = client_of("owner")

    page = owner.post(path, owner.get(path).form(path) | {"roles": "learner"})

    assert page.status == 422
    assert page.errors["roles"].startswith("Type owner, instructor or foreman")


def test_what_is_held_counts_it_and_shows_nothing_of_it(with_app):
    kim = with_app()

    page = kim.browser.get("/account/held")

    assert "Codes on paper for it 10" in page.words
    assert kim.app.secret not in page.text
    assert not any(code in page.text for code in kim.paper)


def test_the_clock_of_the_site_counts_and_not_that_of_the_browser(with_app, password_typed, clock):
    kim = with_app()
    old = kim.code()
    clock.forward(minutes=5)
    browser, _ = password_typed()

    page = browser.submit("/sign-in/code", {"code": old}, headers={"Date": str(clock.now - timedelta(minutes=5))})

    assert page.status == 422
