"""Signing in and out, and the own account."""

from __future__ import annotations

import pytest
from werkzeug.http import parse_cookie

from trainer.accounts.passwords import CHEAP_PASSWORDS
from trainer.accounts.people import person_named, reset_password


@pytest.fixture
def credentials(world):
    return {"sign_in_name": "learner", "password": world.password}


def test_it_signs_in_and_goes_where_the_person_came_for(client, credentials):
    page = client.submit("/sign-in?next=/account/devices", credentials)

    assert page.status == 303
    assert page.location == "/account/devices"
    assert client.get("/account").status == 200


def test_it_takes_the_name_as_a_phone_writes_it(client, credentials):
    page = client.submit("/sign-in", credentials | {"sign_in_name": " Learner "})

    assert page.status == 303


@pytest.mark.parametrize(
    "elsewhere", ["https://elsewhere.example/", "//elsewhere.example", "/\\elsewhere.example", "javascript:0"]
)
def test_it_never_leads_to_another_site(client, credentials, elsewhere):
    page = client.submit("/sign-in?next=" + elsewhere, credentials)

    assert page.location == "/"


def test_a_wrong_password_does_not_tell_which_of_the_two_was_wrong(client, credentials):
    known = client.submit("/sign-in", credentials | {"password": "something else"})
    unknown = client.submit("/sign-in", {"sign_in_name": "nobody.here", "password": "something else"})

    assert known.status == unknown.status == 422
    assert known.errors == unknown.errors
    assert "do not go together" in known.errors["sign_in_name"]


def test_a_wrong_password_keeps_the_name_and_not_the_password(client, credentials):
    page = client.submit("/sign-in", credentials | {"password": "something else"})

    assert page.value("sign_in_name") == "learner"
    assert "something else" not in page.text


def test_an_empty_form_says_what_to_type(client):
    page = client.submit("/sign-in", {})

    assert page.errors == {"sign_in_name": "Type the name you sign in with.", "password": "Type your password."}


def test_too_many_tries_are_told_to_wait_and_how_long(client, credentials):
    for _ in range(6):
        client.submit("/sign-in", credentials | {"password": "something else"})
    page = client.submit("/sign-in", credentials)

    assert page.status == 429
    assert "Wait 5 minutes" in page.words
    assert int(page.headers["Retry-After"]) == 300


def test_after_the_wait_it_goes_on(client, credentials, clock):
    for _ in range(7):
        client.submit("/sign-in", credentials | {"password": "something else"})
    clock.forward(minutes=6)

    assert client.submit("/sign-in", credentials).status == 303


def test_one_who_is_signed_in_already_is_sent_on(client_of):
    assert client_of("learner").get("/sign-in?next=/account").location == "/account"


def test_the_cookie_is_kept_from_scripts_and_from_other_sites(client, credentials):
    page = client.submit("/sign-in", credentials)

    cookie = next(one for one in page.headers.getlist("Set-Cookie") if one.startswith("trainer-reader="))
    assert "HttpOnly" in cookie
    assert "SameSite=Lax" in cookie
    assert "Path=/" in cookie


def test_signing_in_takes_a_new_form_token(client, credentials):
    before = client.get("/sign-in").value("csrf_token")
    client.post("/sign-in", credentials | {"csrf_token": before})

    page = client.post("/sign-out", {"csrf_token": before})

    assert page.status == 400
    assert page.heading == "This form is no longer good"


def test_a_form_without_its_token_changes_nothing(client, credentials):
    page = client.post("/sign-in", credentials)

    assert page.status == 400
    assert client.get("/account").status == 303


def test_signing_out_ends_the_session_and_empties_the_browser(client_of):
    browser = client_of("learner")
    token = browser.client.get_cookie("trainer-reader").value

    page = browser.submit("/account", action="/sign-out")

    assert page.location == "/signed-out"
    assert page.headers["Clear-Site-Data"] == '"cache", "storage"'
    browser.client.set_cookie("trainer-reader", token)
    assert browser.get("/account").location == "/sign-in?next=/account"


def test_the_page_after_signing_out_says_that_it_is_done(client):
    assert client.get("/signed-out").heading == "You are signed out"


def test_the_account_shows_both_names(client_of):
    page = client_of("learner").get("/account")

    assert "Learner Person" in page.words
    assert "learner" in page.words


def test_the_name_that_others_read_can_be_changed(client_of):
    browser = client_of("learner")

    page = browser.submit("/account/name", {"display_name": "  José   García "})

    assert page.location == "/account"
    assert "José García" in browser.get("/account").words


def test_a_name_without_letters_is_refused_and_kept_for_mending(client_of):
    page = client_of("learner").submit("/account/name", {"display_name": "12345"})

    assert page.status == 422
    assert page.errors["display_name"].startswith("Type up to 80 characters")
    assert page.value("display_name") == "12345"


@pytest.fixture
def change(world):
    return {"old_password": world.password, "new_password": "tube and strap", "once_more": "tube and strap"}


def test_a_changed_password_signs_out_every_other_browser(client_of, change):
    here, there = client_of("learner"), client_of("learner")

    page = here.submit("/account/password", change)

    assert page.location == "/"
    assert here.get("/account").status == 200
    assert there.get("/account").status == 303


def test_the_new_password_signs_in(client, client_of, change):
    client_of("learner").submit("/account/password", change)

    assert client.submit("/sign-in", {"sign_in_name": "learner", "password": "tube and strap"}).status == 303


def test_a_wrong_old_password_is_told_beside_its_field(client_of, change):
    page = client_of("learner").submit("/account/password", change | {"old_password": "not it"})

    assert page.status == 422
    assert "not your present password" in page.errors["old_password"]


def test_a_short_password_is_told_what_is_accepted(client_of, change):
    page = client_of("learner").submit("/account/password", change | {"new_password": "short", "once_more": "short"})

    assert page.errors["new_password"].startswith("Type 10 to 200 characters")


def test_two_passwords_that_differ_are_told_apart(client_of, change):
    page = client_of("learner").submit("/account/password", change | {"once_more": "tube and trap"})

    assert "the two differ" in page.errors["once_more"]


def test_guessing_the_old_password_is_slowed_down(client_of, change):
    browser = client_of("learner")
    for _ in range(6):
        browser.submit("/account/password", change | {"old_password": "not it"})

    assert browser.submit("/account/password", change).status == 429


@pytest.fixture
def with_one_time_password(app, client, clock):
    """A browser signed in with a one-time password, and that password."""
    with app.extensions["trainer.database"].write() as session:
        person = person_named(session, "learner")
        once = reset_password(session, person.id, clock.now, passwords=CHEAP_PASSWORDS)
    client.submit("/sign-in", {"sign_in_name": "learner", "password": once})
    return client, once


@pytest.mark.parametrize("path", ["/account", "/account/held", "/account/devices"])
def test_a_one_time_password_opens_nothing_but_the_page_to_change_it(with_one_time_password, path):
    browser, _ = with_one_time_password

    assert browser.get(path).location == "/account/password"


def test_a_one_time_password_is_replaced_and_then_the_site_opens(with_one_time_password, change):
    browser, once = with_one_time_password
    assert browser.get("/account/password").heading == "Set your own password"

    browser.submit("/account/password", change | {"old_password": once})

    assert browser.get("/account").status == 200


def test_one_with_a_one_time_password_may_still_sign_out(with_one_time_password):
    browser, _ = with_one_time_password

    assert browser.submit("/account/password", action="/sign-out").location == "/signed-out"


@pytest.mark.parametrize(
    ("address", "warns"),
    [
        ("http://training.example.org", True),
        ("http://training.example.org:8137", True),
        ("https://training.example.org", False),
        ("http://127.0.0.1:8137", False),
        ("http://localhost", False),
    ],
)
def test_a_site_that_needs_https_says_so_where_a_cookie_would_be_lost(app, secure_client, monkeypatch, address, warns):
    monkeypatch.setitem(app.config, "TRUSTED_HOSTS", ["training.example.org", "127.0.0.1", "localhost"])

    page = secure_client.get("/sign-in", base_url=address)

    assert ("TRAINER_SECURE_COOKIES=no" in page.words) == warns


def test_a_browser_that_lost_the_cookie_is_told_why(secure_client, credentials):
    page = secure_client.post("/sign-in", credentials)

    assert page.status == 400
    assert page.heading == "This site needs https"


def test_over_https_the_cookie_is_tied_to_this_host(secure_client, credentials):
    referrer = {"Referer": "https://127.0.0.1/sign-in"}

    page = secure_client.submit("/sign-in", credentials, base_url="https://127.0.0.1", headers=referrer)

    cookie = next(one for one in page.headers.getlist("Set-Cookie") if "reader" in one)
    assert "__Host-trainer-reader" in parse_cookie(cookie)
    assert "Secure" in cookie
    assert "Domain" not in cookie
