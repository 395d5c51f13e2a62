"""Looking after the site: schools, shops, accounts, passwords that work once."""

from __future__ import annotations

import re

import pytest


@pytest.fixture
def keeper(client_of):
    return client_of("administrator")


def shown_once(page):
    """The sign-in name and the password on the page."""
    return [" ".join("".join(one.itertext()).split()) for one in page.tree.findall(".//div[@class='code']/p")][1::2]


def test_who_looks_after_the_site_begins_there(keeper, world):
    assert keeper.get("/").location == "/site"
    page = keeper.get("/site")

    assert "Riverside evening school School. Owner: Owner Person." in page.words
    assert "Hill Street Electric Shop. Owner: nobody yet." in page.words
    assert f"/organisations/{world.organisations['shop']}/staff" in page.links()


def test_one_of_many_is_found_by_a_part_of_its_name(keeper, monkeypatch):
    assert "A part of its name" not in keeper.get("/site").words
    monkeypatch.setattr("trainer.groups.register.MOST_LISTED", 1)
    page = keeper.get("/site")
    assert "Hill Street Electric" in page.words
    assert "Riverside evening school" not in page.words
    assert "These are the first 1 of " in page.words

    found = keeper.get("/site?name=+evening+")
    assert "Riverside evening school School. Owner: Owner Person." in found.words
    assert "Hill Street Electric" not in found.words
    none = keeper.get("/site?name=%3Cb%3E%00%E2%80%AE%25_")
    assert (none.status, none.value("name")) == (200, "<b>%_")
    assert "None has such a name" in none.words


def test_it_opens_nobodys_record(keeper, world, given):
    group = f"/groups/{world.groups['class']}"
    for path in ("/groups", group, f"{group}/people/{given.public_id('learner')}", f"/given/{given.work()}"):
        assert keeper.get(path).status == 403
    assert "Learner" not in keeper.get("/site").words


def test_a_school_is_made_and_its_owner_appointed_next(keeper, client_of):
    made = keeper.submit(
        "/site/organisations/new", {"name": "North school", "kind": "school", "time_zone": "America/Denver"}
    )
    staff = keeper.get(made.location)
    assert staff.heading == "North school"
    assert "Appoint its owner below." in staff.words
    assert "America/Denver" in staff.words
    assert "/site" in staff.links()

    sure = keeper.submit(made.location, {"sign_in_name": "stranger", "role": "owner"})
    assert sure.heading == "Appoint Stranger Person: Owner"
    keeper.post(made.location, sure.form(made.location))

    assert "North school School. Owner: Stranger Person." in keeper.get("/site").words
    assert client_of("stranger").get(made.location).status == 200


@pytest.mark.parametrize(
    ("typed", "field", "said"),
    [
        ({"name": ""}, "name", "Type its name."),
        ({"name": "x" * 121}, "name", "up to 120 characters"),
        ({"kind": ""}, "kind", "Choose whether"),
        ({"kind": "club"}, "kind", "school or shop"),
        ({"time_zone": ""}, "time_zone", "Choose the time zone"),
        ({"time_zone": "Moon/Tycho"}, "time_zone", "IANA"),
    ],
)
def test_a_school_that_will_not_do_is_kept_for_mending(keeper, typed, field, said):
    good = {"name": "North school", "kind": "school", "time_zone": "America/Denver"}
    page = keeper.submit("/site/organisations/new", good | typed)

    assert page.status == 422
    assert said in page.errors[field]
    assert page.value("name") == (good | typed)["name"]


def test_time_zones_near_at_hand_stand_first(keeper):
    page = keeper.get("/site/organisations/new")
    zones = [one.get("value") for one in page.tree.iter("option")]

    assert zones[:3] == ["", "America/New_York", "America/Chicago"]
    assert {"Europe/Berlin", "Asia/Tokyo"} < set(zones)
    assert len(zones) == len(set(zones))


def test_an_account_has_a_password_that_is_shown_once_and_has_to_be_changed(keeper, client):
    page = keeper.submit("/site/people/new", {"display_name": "Rosa Diaz", "sign_in_name": "Rosa.Diaz"})
    assert page.status == 201
    assert page.headers["Cache-Control"] == "no-store"
    name, password = shown_once(page)
    assert re.fullmatch(r"[a-z2-9]{4}(-[a-z2-9]{4}){3}", password)
    assert password not in keeper.get("/site").text
    assert password not in str(page.headers)

    signed_in = client.submit("/sign-in", {"sign_in_name": name, "password": password})

    assert signed_in.status == 303
    assert client.get("/today").location == "/account/password"


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"display_name": " "}, "display_name"),
        ({"sign_in_name": ""}, "sign_in_name"),
        ({"sign_in_name": "learner"}, "sign_in_name"),
        ({"sign_in_name": "no spaces"}, "sign_in_name"),
    ],
)
def test_an_account_that_will_not_do_is_kept_for_mending(keeper, typed, field):
    good = {"display_name": "Rosa Diaz", "sign_in_name": "rosa.diaz"}
    page = keeper.submit("/site/people/new", good | typed)

    assert page.status == 422
    assert list(page.errors) == [field]
    for name, value in (good | typed).items():
        assert page.value(name) == value


def test_sending_the_form_again_makes_no_second_account(keeper):
    typed = {"display_name": "Rosa Diaz", "sign_in_name": "rosa.diaz"}
    keeper.submit("/site/people/new", typed)

    assert keeper.submit("/site/people/new", typed).status == 422


def test_a_forgotten_password_is_replaced_and_every_device_signed_out(keeper, client, client_of, world):
    learner = client_of("learner")
    page = keeper.submit("/site/people/password", {"sign_in_name": " Learner "})
    assert page.status == 201
    assert page.headers["Cache-Control"] == "no-store"
    _, password = shown_once(page)

    assert learner.get("/today").location.startswith("/sign-in")
    assert client.submit("/sign-in", {"sign_in_name": "learner", "password": world.password}).status == 422
    assert client.submit("/sign-in", {"sign_in_name": "learner", "password": password}).status == 303


@pytest.mark.parametrize("name", ["", "no.body", "?"])
def test_a_password_for_nobody_is_refused_in_words(keeper, name):
    page = keeper.submit("/site/people/password", {"sign_in_name": name})

    assert page.status == 422
    assert page.errors["sign_in_name"].startswith("Type ")
    assert page.value("sign_in_name") == name
