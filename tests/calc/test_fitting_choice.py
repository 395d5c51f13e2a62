from __future__ import annotations

from itertools import product

import pytest

from trainer.calc.fitting_choice import FITTING_CHOICE, FITTING_IDS, fitting_choice
from trainer.calc.tables import table


def suitable(*place, **job):
    return [judged.fitting for judged in fitting_choice(*place, **job).suitable]


def reason(fitting, *place, **job):
    choice = fitting_choice(*place, **job)
    (judged,) = [one for one in choice.suitable + choice.unsuitable if one.fitting == fitting]
    return judged.reason


def test_dry_and_plain_takes_any_straight_connector():
    assert suitable("dry") == ["set-screw", "set-screw-steel", "compression", "compression-wet"]


def test_only_what_is_listed_for_wet_locations_belongs_in_a_wet_place():
    for box_side in (None, "sealed", "hub"):
        assert suitable("wet", box_side=box_side) == ["compression-wet"]
    assert reason("compression", "wet").id == "fitting.place.wet"


def test_a_plain_knockout_lets_water_in_whatever_the_connector():
    assert suitable("wet", box_side="plain") == []
    assert reason("compression-wet", "wet", box_side="plain").id == "fitting.box-side"
    assert "compression-wet" in suitable("dry", box_side="plain")


def test_where_the_box_side_is_not_settled_the_reason_asks_for_it():
    assert reason("compression-wet", "wet").params["proviso_1"].id == "fitting.if-sealed"
    assert reason("compression-wet", "wet", box_side="hub").id == "fitting.provisos.0"


@pytest.mark.parametrize("place", ["damp", "concrete"])
def test_a_plain_compression_connector_depends_on_its_marking(place):
    assert "compression" in suitable(place)
    assert reason("compression", place).params["proviso_1"].id == f"fitting.if-marked.{place}"
    assert reason("set-screw", place).params["proviso_1"].id == f"fitting.if-marked.{place}"


def test_a_step_is_bent_or_bridged():
    assert "offset" in suitable("dry", knockout_offset=0.375)
    assert reason("set-screw", "dry", knockout_offset=0.375).params["proviso_1"].id == "fitting.bend-the-step"
    assert reason("offset", "dry").id == "fitting.no-step"
    assert reason("offset", "dry", knockout_offset=1.0).id == "fitting.step-too-large"


def test_a_hard_pull_rules_out_what_is_weak():
    assert suitable("dry", stress="heavy") == ["set-screw-steel", "compression", "compression-wet"]
    assert reason("offset", "dry", knockout_offset=0.5, stress="heavy").id == "fitting.weak.offset"


def test_between_fixed_boxes_only_a_connector_that_opens_gets_on():
    assert suitable("dry", ends="fixed") == ["two-piece"]
    assert reason("two-piece", "dry").id == "fitting.not-needed"


def test_boxes_that_almost_touch_are_joined_without_tube():
    assert suitable("dry", spacing=0.5) == ["nipple"]
    assert reason("set-screw", "dry", spacing=0.5).id == "fitting.no-room"
    assert reason("nipple", "dry", spacing=12).id == "fitting.no-second-box"
    assert "set-screw" in suitable("dry", spacing=2)


def test_a_sharp_turn_at_the_box_has_its_own_connector():
    assert suitable("dry", turn="right-angle") == ["right-angle"]
    assert reason("set-screw", "dry", turn="right-angle").id == "fitting.corner"


CHOICES = {given.name: (*given.choices, None)[: len(given.choices) + given.optional] for given in FITTING_CHOICE.inputs}


def test_every_job_has_each_fitting_judged_once_with_a_reason():
    for place, ends, stress, box_side, turn in product(
        CHOICES["place"], ("free", "fixed"), ("light", "heavy"), CHOICES["box_side"], ("straight", "right-angle")
    ):
        for spacing, step in product((None, 1.0, 6.0), (0.0, 0.5, 2.0)):
            choice = fitting_choice(
                place, ends, knockout_offset=step, spacing=spacing, stress=stress, box_side=box_side, turn=turn
            )
            judged = [one.fitting for one in choice.suitable + choice.unsuitable]
            assert sorted(judged) == sorted(FITTING_IDS)
            assert all(one.message().params["reason"] for one in choice.suitable + choice.unsuitable)


def test_the_table_says_for_each_fitting_what_is_judged():
    for fitting in table("fittings")["fitting"]:
        assert set(fitting["place"]) == {"dry", "damp", "wet", "concrete"}
        assert set(fitting["place"].values()) <= {"yes", "no", "marked"}
    assert set(table("fittings")["build"]["joins"]) == set(FITTING_IDS)
    assert set(table("fittings")["build"]["joins"].values()) <= {"straight", "step", "boxes", "corner"}
    assert set(table("fittings")["build"]["slides_in"]) | {"nipple", "two-piece"} == set(FITTING_IDS)
    assert set(table("fittings")["strength"]["weak"]) < set(FITTING_IDS)


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"place": "sea"}, "place"),
        ({"place": "dry", "ends": "loose"}, "ends"),
        ({"place": "dry", "knockout_offset": -1}, "knockout_offset"),
        ({"place": "dry", "spacing": -1}, "spacing"),
        ({"place": "dry", "stress": "some"}, "stress"),
        ({"place": "dry", "box_side": "open"}, "box_side"),
        ({"place": "dry", "turn": "left"}, "turn"),
    ],
)
def test_what_is_no_choice_is_refused(values, field, refused):
    assert refused(fitting_choice, **values).field == field
