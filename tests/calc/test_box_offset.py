from __future__ import annotations

import pytest

from trainer.calc.box_offset import box_offset
from trainer.calc.layout_compare import box_offset_as_bent
from trainer.calc.layout_room import check_room
from trainer.calc.shoes import DEFAULT_SHOE, DEFAULT_SHOES


def test_depth_is_from_the_middle_of_the_tube_to_the_middle_of_the_knockout():
    assert box_offset(0.853).depth == pytest.approx(0.5)
    assert box_offset(0.853, 0.25).depth == pytest.approx(0.25)
    assert box_offset(1.0, shoe=DEFAULT_SHOES["3/4"]).depth == pytest.approx(1 - 0.461)


def test_a_half_inch_rise_at_five_degrees_takes_marks_about_six_inches_apart():
    """Published textbook: marks 2 in and 8 in from the end at 5 degrees; the rise is then 0.52 in."""
    result = box_offset(0.353 + 0.523, angle=5, near_mark=2)

    assert result.far_mark == pytest.approx(8, abs=0.01)


def test_the_near_bend_is_given_so_no_shrink_is_added():
    result = box_offset(0.853, angle=10, near_mark=3)

    assert result.far_mark_handbook == pytest.approx(3 + 6 * 0.5)
    assert [mark.position for mark in result.marks_handbook] == [3, result.far_mark_handbook]


@pytest.mark.parametrize("angle", [5, 10, 15, 30])
@pytest.mark.parametrize("knockout", [0.7, 0.9, 1.4])
def test_the_bent_tube_comes_to_the_knockout(knockout, angle):
    result = box_offset(knockout, angle=angle, near_mark=3)
    if result.marks_arc:
        for one in box_offset_as_bent({"knockout": knockout}, result.marks_arc):
            assert one.miss == pytest.approx(0, abs=1e-6), one.name


@pytest.mark.parametrize("angle", [5, 10, 15])
@pytest.mark.parametrize("knockout", [0.7, 0.9, 1.1])
def test_the_hook_has_straight_tube_at_both_marks_however_near_they_lie(knockout, angle):
    result = box_offset(knockout, angle=angle, near_mark=2.5)

    for marks in (result.marks, result.marks_handbook, result.marks_arc):
        check_room(marks, DEFAULT_SHOE, 60)


def test_where_the_arcs_would_meet_there_are_no_marks_by_the_arc():
    result = box_offset(0.45, angle=30, near_mark=3)

    assert (result.spacing_arc, result.far_mark_arc, result.marks_arc) == (None, None, ())
    assert result.marks


def test_what_cannot_be_is_refused(refused):
    assert refused(box_offset, 0.3).field == "knockout"
    assert refused(box_offset, 0.853, near_mark=1).field == "near_mark"
    assert refused(box_offset, 0.853, angle=45).field == "angle"
