from __future__ import annotations

import pytest

from trainer.calc.kick import kick
from trainer.calc.marks import Datum, End
from trainer.calc.shoes import DEFAULT_SHOE


def test_travel_and_advance_follow_the_right_triangle():
    result = kick(6, 30)

    assert (result.travel, result.advance, result.mark) == pytest.approx((12, 10.3923, 12), abs=1e-4)


def test_the_handbook_multiplies_the_rise():
    assert kick(10, 22.5).mark_handbook == 26
    assert kick(10, 22.5).travel_handbook == 26
    assert (kick(10, 25).travel_handbook, kick(10, 25).mark_handbook, kick(10, 25).marks_handbook) == (None, None, ())


def test_from_rise_and_length_follows_the_angle():
    result = kick(6, length=12)

    assert result.angle == pytest.approx(30)
    assert result.travel == pytest.approx(12)
    assert result.mark_handbook is None or result.mark_handbook == pytest.approx(12)


def test_from_an_end_it_is_the_only_bend():
    (mark,) = kick(6, 30).marks

    assert (mark.measured_from, mark.hook_toward, mark.roll, mark.order) == (End.MEASURED, End.FAR, 0, 1)


@pytest.mark.parametrize(("turn", "roll"), [("clockwise", 90), ("counterclockwise", -90), ("none", 0)])
def test_behind_a_90_it_is_the_second_bend_and_measured_from_the_back(turn, roll):
    (mark,) = kick(6, 30, measured_from="back-of-first-bend", turn=turn).marks_arc

    assert (mark.measured_from, mark.roll, mark.order) == (Datum.BACK, roll, 2)


@pytest.mark.parametrize(("hook", "swung"), [("far-end", True), ("measured-end", False)])
def test_the_tube_is_swung_around_where_the_hook_does_not_point_at_the_90(hook, swung):
    """The 90 was bent with the hook toward its stub."""
    (mark,) = kick(12, 30, measured_from="back-of-first-bend", hook=hook).marks

    assert mark.end_for_end == swung


def test_the_back_of_a_90_stands_half_a_diameter_further_on_than_its_middle():
    end, back = (kick(12, 30, measured_from=origin).mark_arc for origin in ("measured-end", "back-of-first-bend"))

    assert back - end == pytest.approx(DEFAULT_SHOE.outside_diameter / 2)


@pytest.mark.parametrize("measured_from", ["measured-end", "back-of-first-bend"])
@pytest.mark.parametrize("hook", ["far-end", "measured-end"])
def test_without_room_it_is_refused_with_what_would_do(measured_from, hook, refused):
    place = {"measured_from": measured_from, "hook": hook}
    by_angle = refused(kick, 1, 30, **place)
    by_length = refused(kick, 1, length=2, **place)

    assert (by_angle.field, by_length.field) == ("rise", "length")
    assert kick(by_angle.accepted.params["enough"].value, 30, **place)
    assert kick(1, length=by_length.accepted.params["enough"].value, **place)
    assert by_angle.reason.id == ("kick.no-room" if measured_from == "measured-end" else "kick.no-room-behind-90")


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({}, "angle"),
        ({"angle": 30, "length": 12}, "angle"),
        ({"length": 6}, "length"),
        ({"length": 5}, "length"),
        ({"angle": 90}, "angle"),
        ({"angle": 30, "measured_from": "far-end"}, "measured_from"),
        ({"angle": 30, "turn": "up"}, "turn"),
        ({"angle": 30, "hook": "up"}, "hook"),
        ({"rise": 0, "angle": 30}, "rise"),
    ],
)
def test_what_is_impossible_is_refused(values, field, refused):
    assert refused(kick, **{"rise": 6, **values}).field == field
