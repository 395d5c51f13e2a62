from __future__ import annotations

from itertools import pairwise

import pytest

from trainer.calc.four_point_saddle import four_point_saddle
from trainer.calc.marks import End
from trainer.calc.offset import offset


@pytest.mark.parametrize("hook", ["far-end", "measured-end"])
def test_it_begins_as_an_offset_that_ends_before_the_obstacle(hook):
    saddle, first = four_point_saddle(4, 12, 30, clearance=1, distance=40, hook=hook), offset(4, 30, 39, hook=hook)

    for suffix in ("", "_handbook", "_arc"):
        assert getattr(saddle, f"near_inner_mark{suffix}") == getattr(first, f"first_mark{suffix}")
        assert getattr(saddle, f"near_outer_mark{suffix}") == getattr(first, f"second_mark{suffix}")
        assert getattr(saddle, f"spacing{suffix}") == getattr(first, f"spacing{suffix}")
        assert getattr(saddle, f"total_shrink{suffix}") == 2 * getattr(first, f"shrink{suffix}")


def test_the_flat_is_the_obstacle_and_what_is_left_on_both_sides():
    saddle = four_point_saddle(4, 12, 30, clearance=1.5, distance=40)

    assert saddle.inner_spacing == saddle.inner_spacing_handbook == 15
    assert saddle.inner_spacing_arc < 15
    assert saddle.far_inner_mark - saddle.near_inner_mark == 15


@pytest.mark.parametrize("suffix", ["", "_handbook", "_arc"])
def test_both_halves_have_the_same_spacing(suffix):
    saddle = four_point_saddle(4, 12, 30, distance=40)
    places = ("near_outer", "near_inner", "far_inner", "far_outer")
    marks = [getattr(saddle, f"{place}_mark{suffix}") for place in places]
    first, flat, last = (behind - before for before, behind in pairwise(marks))

    assert first == pytest.approx(last)
    assert first == pytest.approx(getattr(saddle, f"spacing{suffix}"))
    assert flat == pytest.approx(getattr(saddle, f"inner_spacing{suffix}"))


@pytest.mark.parametrize("hook", End)
def test_the_bend_nearest_to_where_the_hook_points_comes_first(hook):
    marks = four_point_saddle(4, 12, 30, distance=40, hook=hook).marks
    positions = [mark.position for mark in marks]

    assert positions == sorted(positions, reverse=hook == End.FAR)
    assert {mark.hook_toward for mark in marks} == {hook}
    assert [mark.roll for mark in marks] == [0, 180, 0, 180]


def test_without_a_common_constant_there_is_no_handbook_answer():
    odd, half = four_point_saddle(4, 12, 33, distance=40), four_point_saddle(4, 12, 20, distance=40)

    assert (odd.spacing_handbook, odd.marks_handbook) == (None, ())
    assert half.spacing_handbook == pytest.approx(11.6)
    assert (half.total_shrink_handbook, half.near_outer_mark_handbook, half.marks_handbook) == (None, None, ())


def test_without_a_distance_there_are_no_marks():
    saddle = four_point_saddle(4, 12, 30)

    assert (saddle.near_inner_mark, saddle.far_outer_mark_handbook, saddle.near_outer_mark_arc) == (None, None, None)
    assert saddle.marks == saddle.marks_handbook == saddle.marks_arc == ()


@pytest.mark.parametrize("values", [{"height": 1, "width": 12}, {"height": 4, "width": 2}])
def test_arcs_that_would_meet_on_the_slope_or_on_the_flat_have_no_arc_answer(values):
    saddle = four_point_saddle(**values, angle=45, distance=40)

    assert saddle.marks
    assert (saddle.spacing_arc, saddle.inner_spacing_arc, saddle.marks_arc) == (None, None, ())


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"height": 0}, "height"),
        ({"width": 0}, "width"),
        ({"angle": 90}, "angle"),
        ({"clearance": -1}, "clearance"),
        ({"distance": 0}, "distance"),
        ({"distance": 8}, "distance"),
        ({"hook": "up"}, "hook"),
    ],
)
def test_what_is_impossible_is_refused(values, field, refused):
    assert refused(four_point_saddle, **{"height": 4, "width": 12, "angle": 30, **values}).field == field
