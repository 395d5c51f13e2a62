"""Places for straps: every set with the fewest is found, and what a choice leaves wrong is said with its own letters."""

from __future__ import annotations

from itertools import combinations

import pytest

from trainer.calc.strap_check import strap_check
from trainer.calc.strap_places import strap_places
from trainer.calc.strap_run import StrapRun
from trainer.calc.stretches import Stretch
from trainer.text.words import say

PLACES = (24.0, 42.0, 60.0, 132.0, 168.0, 216.0)


def letters(result):
    return ["".join(layout.letters) for layout in result.layouts]


@pytest.mark.parametrize(
    "more",
    [
        {},
        {"bends": (Stretch(128, 136),)},
        {"terminations": (100.0,)},
        {"straps": (24.0,)},
        {"max_spacing": 96.0},
    ],
)
def test_the_sets_are_those_that_the_check_finds_nothing_wrong_with(more):
    places = (24.0, 42.0, 60.0, 78.0, 114.0, 132.0, 150.0, 168.0, 216.0)
    run = 240.0
    check = {name: value for name, value in more.items() if name != "straps"}
    there = more.get("straps", ())
    holding = [
        one
        for count in range(len(places) + 1)
        for one in combinations(places, count)
        if strap_check(run, (*one, *there), **check).holds
    ]
    fewest = min(map(len, holding))

    result = strap_places(run, places, **more)

    assert result.fewest == fewest
    assert [layout.positions for layout in result.layouts] == [one for one in holding if len(one) == fewest]


def test_places_are_lettered_along_the_run_however_they_are_given():
    assert letters(strap_places(240, PLACES[::-1])) == letters(strap_places(240, PLACES)) == ["ADF"]


def test_a_coupling_asks_for_nothing_and_a_box_does():
    assert strap_places(240, PLACES, couplings=(100.0,)) == strap_places(240, PLACES)
    assert strap_places(240, (*PLACES, 108.0), terminations=(90.0,)).fewest == 4


def test_where_no_set_holds_it_is_said(refused):
    assert refused(strap_places, 240, (60, 180)).reason.id == "strap_places.none"
    assert refused(strap_places, 240, tuple(range(11))).reason.id == "input.too-many-items"
    assert refused(strap_places, 240, (24, 250)).field == "places"


@pytest.mark.parametrize(
    ("chosen", "slips", "said"),
    [
        ("ade", ("end-left-out",), "From the junction box to the nearest strap, E, it is 6 ft; up to 3 ft is allowed."),
        ("af", ("too-far-apart", "as-many-as-gaps"), "From A to F it is 16 ft; up to 10 ft is allowed."),
        (
            "be",
            ("ends-left-out", "too-far-apart", "as-many-as-gaps"),
            (
                "From the panel to the nearest strap, B, it is 3 ft 6 in; up to 3 ft is allowed. "
                "From B to E it is 10 ft 6 in; up to 10 ft is allowed. "
                "From the junction box to the nearest strap, E, it is 6 ft; up to 3 ft is allowed."
            ),
        ),
        ("abdf", ("more-than-needed",), "Every stretch keeps the rule, with 4 straps; 3 straps will do."),
        ("adf", (), "Every stretch keeps the rule, with 3 straps; 3 straps will do."),
    ],
)
def test_what_a_choice_shows_is_named_and_said_with_its_letters(chosen, slips, said):
    run = StrapRun(240.0, PLACES)
    straps = run.positions(chosen)

    assert run.slips(straps, 3) == slips
    assert say(run.judged(straps, 3)) == said


def test_bends_boxes_and_straps_that_are_there_are_said_by_name():
    run = StrapRun(240.0, PLACES, straps=(96.0,), terminations=(120.0,), bends=(Stretch(164, 172),))

    said = say(run.judged(run.positions("ce"), 3))

    assert "From the panel to the nearest strap, C, it is 5 ft" in said
    assert "E sits on a bend" in said
    assert "From the box at 10 ft to the nearest strap, E, it is 4 ft" in said
    assert "bare-stretch" in StrapRun(240.0, PLACES, terminations=(120.0,)).slips((24.0, 42.0), 4)
    assert "the strap at 8 ft" in say(StrapRun(240.0, PLACES, straps=(96.0,)).judged((24.0,), 3))


def test_couplings_taken_for_boxes_and_straps_at_couplings_alone_are_told_apart():
    run = StrapRun(240.0, (24.0, 70.0, 110.0, 132.0, 168.0, 216.0), couplings=(100.0,))

    assert run.slips(run.positions("acdf"), 3) == ("more-than-needed",)
    assert run.slips(run.positions("abcf"), 3) == ("couplings-as-ends",)
    assert "only-at-couplings" in run.slips(run.positions("c"), 3)
