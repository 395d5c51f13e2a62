"""Where one is signed in."""

from __future__ import annotations

from datetime import timedelta

import pytest
from msgspec.structs import replace

from trainer.accounts.sessions import SignInLife


def test_each_browser_is_listed_in_words(client_of):
    client_of("learner")
    page = client_of("learner").get("/account/devices")

    assert page.words.count("Firefox on Android") == 2
    assert page.words.count("this browser") == 1


def test_times_are_in_the_zone_of_the_school(client_of):
    page = client_of("learner").get("/account/devices")

    assert "Last used Wed, Nov 25, 2026, 9:00 am" in page.words


def test_another_browser_can_be_signed_out(client_of):
    here, there = client_of("learner"), client_of("learner")
    form = next(one for one in here.get("/account/devices").tree.iter("form") if "devices" in one.get("action"))

    here.submit("/account/devices", action=form.get("action"))

    assert there.get("/account").status == 303
    assert here.get("/account").status == 200


def test_nobody_signs_out_somebody_else(client_of):
    mine, theirs = client_of("learner"), client_of("instructor")
    form = next(one for one in mine.get("/account/devices").tree.iter("form"))
    client_of("instructor")
    target = next(
        one.get("action") for one in theirs.get("/account/devices").tree.iter("form") if "devices" in one.get("action")
    )
    token = form.find(".//input[@name='csrf_token']").get("value")

    page = mine.post(target, {"csrf_token": token})

    assert page.location == "/account/devices"
    assert "devices" in str([one.get("action") for one in theirs.get("/account/devices").tree.iter("form")])


def test_an_hour_of_use_is_noted_once(client_of, clock):
    browser = client_of("learner")
    clock.forward(minutes=30)
    assert "9:00 am" in browser.get("/account/devices").words

    clock.forward(minutes=31)
    browser.get("/account")

    assert "Last used Wed, Nov 25, 2026, 10:01 am" in browser.get("/account/devices").words


def test_two_weeks_without_use_end_a_session(client_of, clock):
    browser = client_of("learner")
    clock.forward(days=14, minutes=1)

    assert browser.get("/account").status == 303


@pytest.fixture
def strict_client(app, client, monkeypatch):
    """A browser at a site that signs people out after four hours without use, and after two days in any case."""
    life = SignInLife(idle=timedelta(hours=4), longest=timedelta(days=2), kept=timedelta(days=1))
    monkeypatch.setitem(app.extensions, "trainer.keeping", replace(app.extensions["trainer.keeping"], life=life))
    client.submit("/sign-in", {"sign_in_name": "learner", "password": "three words apart"})
    return client


def test_a_site_can_sign_people_out_sooner_and_says_so(strict_client, clock):
    clock.forward(hours=3, minutes=30)
    assert "not used for 4 hours is signed out" in strict_client.get("/account/devices").words

    clock.forward(hours=4, minutes=1)

    assert strict_client.get("/account").status == 303


def test_a_sign_in_in_use_lasts_as_long_as_the_site_lets_it(strict_client, clock):
    for _ in range(16):
        assert strict_client.get("/account").status == 200
        clock.forward(hours=3)

    assert strict_client.get("/account").status == 303
