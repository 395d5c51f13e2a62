from __future__ import annotations

import pytest
from msgspec.structs import replace

from trainer.calc.back_to_back import back_to_back
from trainer.calc.catalogue import CATALOGUE
from trainer.calc.marks import Datum, End, Reference
from trainer.calc.shoes import DEFAULT_SHOE, DEFAULT_SHOES


@pytest.mark.parametrize(("size", "take_up", "gain"), [("1/2", 5, 2.625), ("3/4", 6, 3.25), ("1", 8, 4.0)])
def test_the_three_ways_to_the_second_mark(size, take_up, gain):
    result = back_to_back(40, 12, DEFAULT_SHOES[size])

    assert (result.by_back_mark, result.by_take_up) == (40, 40 - take_up)
    assert result.on_straight_stick_handbook == 12 + 40 - gain
    assert result.on_straight_stick == pytest.approx(12 + 40 - gain, abs=1 / 64)


def second(way):
    return back_to_back(40, 12, way=way).marks[1]


def test_by_the_back_mark_the_hook_points_at_the_free_end_and_the_tube_is_swung_around():
    mark = second("by-back-mark")

    assert (mark.position, mark.measured_from, mark.reference) == (40, Datum.BACK, Reference.BACK_OF_BEND)
    assert (mark.hook_toward, mark.end_for_end, mark.roll) == (End.FAR, True, 0)


def test_by_the_take_up_mark_the_hook_points_at_the_first_bend():
    mark = second("by-take-up")

    assert (mark.position, mark.measured_from, mark.reference) == (35, Datum.BACK, Reference.TAKE_UP)
    assert (mark.hook_toward, mark.end_for_end) == (End.MEASURED, False)


def test_on_the_straight_stick_both_marks_are_made_from_the_first_end():
    first, mark = back_to_back(40, 12, way="on-straight-stick").marks

    assert first.position == 7
    assert first.measured_from is mark.measured_from is End.MEASURED
    assert (mark.reference, mark.hook_toward) == (Reference.BACK_OF_BEND, End.FAR)
    assert mark.position == back_to_back(40, 12).on_straight_stick


def test_the_handbook_s_gain_moves_only_the_mark_on_the_straight_stick():
    assert back_to_back(40, 12).marks == back_to_back(40, 12).marks_handbook
    assert back_to_back(40, 12, way="on-straight-stick").marks_handbook[1].position == 49.375


def test_without_a_stub_the_tape_starts_at_the_bend_that_is_there():
    result = back_to_back(40)

    assert (result.by_back_mark, result.by_take_up) == (40, 35)
    assert (result.on_straight_stick, result.on_straight_stick_handbook) == (None, None)
    assert result.marks == result.marks_handbook == ()


def test_a_back_mark_that_stands_elsewhere_moves_the_pencil_mark():
    own = replace(DEFAULT_SHOE, own_back_mark=DEFAULT_SHOE.back_mark + 0.25)
    _, steps = CATALOGUE["back_to_back"].trace({"distance": 40.0, "shoe": own})

    assert back_to_back(40, shoe=own).by_back_mark == pytest.approx(39.75)
    assert "back_to_back.own-mark" in [step.note.id for step in steps if step.note]


@pytest.mark.parametrize(("distance", "told"), [(11.8, True), (11.9, False)])
def test_the_steps_tell_when_the_hook_is_short_of_room_before_the_first_bend(distance, told):
    _, steps = CATALOGUE["back_to_back"].trace({"distance": distance})

    assert ("back_to_back.hook-room" in [step.note.id for step in steps if step.note]) == told


@pytest.mark.parametrize(("way", "reason"), [("by-take-up", "hook-room"), ("by-back-mark", "arcs-meet")])
def test_without_room_the_least_distance_is_told(way, reason, refused):
    def of(distance):
        return back_to_back(distance, 12, way=way)

    error = refused(of, 9.7)
    least = error.accepted.params["least"].value

    assert (error.field, error.reason.id) == ("distance", "back_to_back.arcs-meet")
    error = refused(of, least + 0.1) if reason == "hook-room" else error
    assert error.reason.id == f"back_to_back.{reason}"
    assert of(error.accepted.params["least"].value + 1e-9).marks


@pytest.mark.parametrize(
    ("values", "field"),
    [({"distance": 0}, "distance"), ({"stub": 0}, "stub"), ({"stub": 6}, "stub"), ({"way": "by-eye"}, "way")],
)
def test_what_is_impossible_is_refused(values, field, refused):
    assert refused(back_to_back, **{"distance": 40, **values}).field == field
