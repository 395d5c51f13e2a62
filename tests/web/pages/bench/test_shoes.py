"""The shop's shoes: seen by all of it, kept by those who run it."""

from __future__ import annotations

from urllib.parse import urlencode

import pytest

from trainer.calc.catalogue import CATALOGUE

READINGS = {"trade_size": "3/4", "stick": "36", "mark": "8", "stub": "14", "other_leg": "25-1/4"}


@pytest.fixture
def measure(world):
    return f"/bench/shoes/{world.organisations['school']}/measure"


def keep(browser, measure, name="3/4, yellow handle", **readings):
    sent = READINGS | readings
    data = sent | {"name": name}
    return browser.submit(f"{measure}?{urlencode(sent)}", data, action=measure)


def told(page):
    return page.words.replace("\u2060", "").replace("\u00a0", " ")


def test_a_shop_without_a_shoe_says_how_to_get_one(client_of, measure):
    assert measure in client_of("owner").get("/bench/shoes").links()
    page = client_of("learner").get("/bench/shoes")
    assert "No shoe measured yet" in page.words
    assert measure not in page.links()


def test_three_tape_readings_tell_what_the_shoe_measures(client_of, measure):
    core = CATALOGUE["measure_shoe"]
    result = core.solve(core.read(READINGS))
    page = client_of("owner").get(f"{measure}?{urlencode(READINGS)}")

    assert (result.take_up, result.outside_gain) == (6.0, 3.25)
    assert "Take-up 6 in" in told(page)
    assert "Outside gain of a 90 3-1/4 in" in told(page)


@pytest.mark.parametrize("who", ["owner", "instructor"])
def test_a_kept_shoe_stands_first_for_everybody(client_of, measure, who):
    sent = keep(client_of(who), measure)

    assert sent.location == "/bench/shoes"
    assert "3/4, yellow handle" in client_of("learner").get("/bench/shoes").words
    assert "3/4, yellow handle (3/4)" in client_of("learner").get("/bench/offset").words
    assert "yellow" not in client_of("foreman").get("/bench/shoes").words


def test_measured_again_under_its_name_it_is_one_shoe(client_of, measure):
    keep(client_of("owner"), measure)
    keep(client_of("owner"), measure, mark="7-15/16")

    page = client_of("owner").get("/bench/shoes")
    assert told(page).count("measured by") == 1
    assert "6-1/16 in" in told(page)


@pytest.mark.parametrize("name", ["<script>zq()</script>", '"><b onzq=1>', "{{ 7*7 }}", "=1+1", "\u202e9"])
def test_a_hostile_name_of_a_shoe_comes_back_as_words(client_of, measure, name):
    answer = keep(client_of("owner"), measure, name)

    assert answer.status in {303, 422}
    for page in (answer, client_of("owner").get("/bench/shoes"), client_of("learner").get("/bench")):
        assert "<script>zq" not in page.text
        assert "<b onzq" not in page.text


@pytest.mark.parametrize("name", ["", "   ", "x" * 61])
def test_a_shoe_needs_a_name_that_can_be_used(client_of, measure, name):
    page = keep(client_of("owner"), measure, name)

    assert page.status == 422
    assert list(page.errors) == ["name"]
    assert page.form(measure)["stub"] == "14"
    assert "measured by" not in client_of("owner").get("/bench/shoes").words


@pytest.mark.parametrize(
    ("field", "text"),
    [("stick", "long"), ("mark", ""), ("stub", "-1"), ("other_leg", "60"), ("mark", "14"), ("trade_size", "9")],
)
def test_readings_that_cannot_be_are_told_beside_their_field(client_of, measure, field, text):
    page = client_of("owner").get(f"{measure}?{urlencode(READINGS | {field: text})}")

    assert page.status == 422
    assert list(page.errors) == [field]
    if field != "trade_size":
        assert page.value(field) == text


def test_nothing_is_kept_of_readings_that_cannot_be(client_of, measure):
    browser = client_of("owner")
    form = browser.get(f"{measure}?{urlencode(READINGS)}").form(measure)
    page = browser.post(measure, form | {"other_leg": "60", "name": "bad"})

    assert page.status == 422
    assert "bad" not in told(client_of("owner").get("/bench/shoes")).split()


def test_a_shoe_is_taken_out_of_use(client_of, given, world):
    kept = given.shoe()
    action = f"/bench/shoes/{world.organisations['school']}/{kept}/end"
    page = client_of("owner").submit("/bench/shoes", action=action)

    assert page.location == "/bench/shoes"
    assert "yellow" not in client_of("learner").get("/bench/offset").words


def test_who_learns_is_offered_neither(client_of, given, world):
    kept = given.shoe()
    page = client_of("learner").get("/bench/shoes")

    assert "3/4, yellow handle" in page.words
    assert f"/bench/shoes/{world.organisations['school']}/{kept}/end" not in page.text
