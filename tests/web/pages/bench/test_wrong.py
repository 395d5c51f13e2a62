"""It came out wrong."""

from __future__ import annotations

from urllib.parse import urlencode

import pytest

from trainer.web.pages.bench.bends import BENDS

OFFSET = {"depth": "6", "distance": "40", "angle": "30", "shoe": "1/2", "basis": "handbook"}
PIECES = {
    "stub-up": ({"stub_height": "12"}, {"measured": "17"}),
    "back-to-back": ({"distance": "40", "stub": "12"}, {"measured": "45"}),
    "offset": ({"depth": "6", "distance": "40", "angle": "30"}, {"measured": "6-3/4", "measured_angle": "34"}),
    "kick": ({"rise": "6", "angle": "30"}, {"measured": "6-3/4"}),
    "three-point-saddle": ({"height": "4", "distance": "40", "centre_angle": "45"}, {"measured": "4-3/8"}),
}


def address(bend="offset", **numbers):
    return f"/bench/{bend}/wrong?{urlencode({'shoe': '1/2'} | numbers)}"


def slips(page):
    listed = next(one for one in page.tree.iter("ol") if one.get("class") == "causes")
    return [" ".join("".join(item.itertext()).replace("\u2060", "").split()) for item in listed]


def test_it_asks_what_was_measured_beside_what_was_wanted(client_of):
    page = client_of("learner").get(address(**OFFSET))

    assert page.errors == {}
    assert "Depth of the offset 6 in" in page.words.replace("\u2060", "")
    assert {"measured", "measured_angle", "measured_distance", "dog_leg"} <= set(page.form("/bench/offset/wrong"))


def test_the_known_bends_are_those_of_the_table():
    assert {bend.id for bend in BENDS.values() if bend.diagnosed_as} == set(PIECES)


@pytest.mark.parametrize("bend", PIECES)
def test_each_bend_finds_slips_and_what_saves_the_piece(client_of, bend):
    wanted, found = PIECES[bend]
    page = client_of("learner").get(address(bend, **wanted, **found))

    assert page.status == 200
    assert slips(page)


def test_a_take_up_that_was_not_taken_off_is_found(client_of):
    page = client_of("learner").get(address("stub-up", stub_height="12", measured="17"))

    assert slips(page)[0].startswith("The take-up was not taken off.")


def test_a_piece_that_is_good_is_called_good(client_of):
    page = client_of("learner").get(address(**OFFSET, measured="6", measured_angle="30"))

    assert "The piece is as you wanted it" in page.words


def test_a_piece_that_no_single_slip_makes_is_said_to_be_so(client_of):
    page = client_of("learner").get(address(**OFFSET, measured="21", measured_angle="30", measured_distance="9"))

    assert page.status == 200
    assert "No single slip makes a piece like that" in page.words or "No bend on this shoe" in page.words


@pytest.mark.parametrize(
    ("field", "text"), [("measured", "banana"), ("measured", ""), ("measured_angle", "200"), ("dog_leg", "-1")]
)
def test_what_cannot_be_used_is_told_beside_its_field(client_of, field, text):
    numbers = {"measured": "6-1/2", "measured_angle": "30", "measured_distance": "40"} | {field: text}
    page = client_of("learner").get(address(**OFFSET, **numbers))

    assert page.status == 422
    assert list(page.errors) == [field]
    assert page.value(field) == text


def test_the_numbers_of_the_job_go_along(client_of):
    page = client_of("learner").get(address(**OFFSET, hook="measured-end", job="Pump room", measured="6-1/2"))

    kept = page.form("/bench/offset/wrong")
    assert {name: kept[name] for name in OFFSET} == OFFSET
    assert (kept["hook"], kept["job"]) == ("measured-end", "Pump room")


@pytest.mark.parametrize("path", ["/bench/offset/wrong", address(depth="banana"), address("wide-bend", radius="30")])
def test_without_the_numbers_of_a_bend_it_leads_to_its_form(client_of, path):
    browser = client_of("learner")
    page = browser.get(path)

    assert page.status == 303
    assert page.location.startswith(path.split("/wrong")[0])


def test_a_bend_that_is_not_known_by_its_slips_offers_no_look(client_of):
    numbers = {"radius": "30", "angle": "90", "shots": "15", "distance": "60"}
    page = client_of("learner").get(f"/bench/wide-bend?{urlencode(numbers)}")

    assert not any("/wrong" in link for link in page.links())
