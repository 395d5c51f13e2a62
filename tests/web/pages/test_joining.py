"""Joining a class or crew."""

from __future__ import annotations

import pytest


@pytest.fixture
def newcomer():
    return {
        "display_name": "Ana Ruiz",
        "sign_in_name": "Ana.Ruiz",
        "new_password": "tube and strap",
        "once_more": "tube and strap",
    }


def test_a_code_as_it_is_written_on_a_board_leads_to_what_it_opens(client, world):
    code = world.codes["class"]

    page = client.submit("/join", {"code": f" {code[:4].lower()}-{code[4:]} "})

    assert page.status == 303
    assert client.get(page.location).heading == "Join the class Tuesday evening"


def test_a_class_shares_assigned_work_and_says_with_whom(client, world):
    page = client.get(f"/join/{world.codes['class']}")

    assert "Owner Person (runs the school), Instructor Person" in page.words
    shared, kept = page.words.split("What they will not see")
    assert "What you answer in work that is assigned here" in shared
    assert "practice" in kept


def test_a_crew_shares_readiness_too(client, world):
    shared, _ = client.get(f"/join/{world.codes['crew']}").words.split("What they will not see")

    assert "Where you stand on each skill" in shared


def test_an_empty_code_is_asked_for(client):
    assert "Type the code" in client.submit("/join", {"code": "  "}).errors["code"]


@pytest.mark.parametrize("code", ["22222223", "!!", "A/B", "x" * 90])
def test_a_code_that_opens_nothing_is_kept_for_mending(client, code):
    page = client.get(client.submit("/join", {"code": code}).location)

    assert page.status == 422
    assert page.errors["code"]


def test_guessing_codes_from_one_address_is_slowed_down(client):
    for _ in range(20):
        assert client.get("/join/22222222").status == 422

    page = client.get("/join/22222222")

    assert page.status == 429
    assert "Wait" in page.words


def test_a_slip_of_the_pen_is_not_counted_as_guessing(client, world):
    for _ in range(30):
        client.get("/join/22222223")

    assert client.get(f"/join/{world.codes['class']}").status == 200


def test_one_who_is_signed_in_joins_with_one_button(client_of, world):
    browser = client_of("stranger")

    page = browser.submit(f"/join/{world.codes['class']}")

    assert page.location == "/"
    assert "Tuesday evening" in browser.get("/account/held").words


def test_a_member_is_told_so(client_of, world):
    page = client_of("learner").get(f"/join/{world.codes['class']}")

    assert "You are in it already." in page.words


def test_a_stranger_cannot_use_the_button_of_those_who_are_signed_in(client, world):
    token = client.get("/sign-in").value("csrf_token")

    page = client.post(f"/join/{world.codes['class']}", {"csrf_token": token})

    assert page.location.startswith("/sign-in")


def test_signing_in_on_the_way_comes_back_to_the_code(client, world):
    links = client.get(f"/join/{world.codes['class']}").links()

    assert f"/sign-in?next=/join/{world.codes['class']}" in links


def test_a_newcomer_is_a_member_and_signed_in_at_once(client, world, newcomer):
    code = world.codes["class"]

    page = client.submit(f"/join/{code}", newcomer, action=f"/join/{code}/new")

    assert page.status == 303
    assert "you are in. Below stands what to do first." in client.get("/today").words
    held = client.get("/account/held")
    assert "Tuesday evening" in held.words
    assert "ana.ruiz" in held.words


def test_what_a_newcomer_typed_wrong_stands_beside_its_field(client, world, newcomer):
    code = world.codes["class"]
    typed = newcomer | {"sign_in_name": "learner", "new_password": "tube and strap"}

    page = client.submit(f"/join/{code}", typed, action=f"/join/{code}/new")

    assert page.status == 422
    assert page.errors["sign_in_name"] == (
        "Type a name that nobody else on this site signs in with. Somebody here signs in as learner already."
        " For example: learner.2"
    )
    assert page.value("display_name") == "Ana Ruiz"
    assert "tube and strap" not in page.text


def test_a_weak_password_makes_nobody(client, world, newcomer):
    code = world.codes["class"]
    weak = newcomer | {"new_password": "1234567890", "once_more": "1234567890"}

    page = client.submit(f"/join/{code}", weak, action=f"/join/{code}/new")

    assert "new_password" in page.errors
    again = client.submit(f"/join/{code}", newcomer, action=f"/join/{code}/new")
    assert again.status == 303


def test_no_code_no_sign_in(client, world, newcomer):
    token = client.get(f"/join/{world.codes['class']}").value("csrf_token")

    page = client.post("/join/22222222/new", newcomer | {"csrf_token": token})

    assert page.status == 422
    assert "code" in page.errors
    assert client.submit("/sign-in", {"sign_in_name": "ana.ruiz", "password": "tube and strap"}).status == 422


def test_one_who_is_signed_in_makes_no_second_sign_in(client_of, world, newcomer):
    browser = client_of("stranger")
    token = browser.get(f"/join/{world.codes['class']}").value("csrf_token")

    page = browser.post(f"/join/{world.codes['class']}/new", newcomer | {"csrf_token": token})

    assert page.location == f"/join/{world.codes['class']}"
