from __future__ import annotations

import pytest

from trainer.calc.catalogue import CATALOGUE
from trainer.calc.layout_proof import misfit
from trainer.calc.marks import End, Reference
from trainer.calc.shoes import DEFAULT_SHOES
from trainer.calc.three_point_saddle import three_point_saddle


@pytest.mark.parametrize(("centre", "spacing", "shrink"), [(45, 2.6131, 0.19891), (60, 2.0, 0.26795)])
def test_sharp_corners_follow_the_right_triangle(centre, spacing, shrink):
    result = three_point_saddle(1, centre)

    assert (result.outer_spacing, result.shrink_to_centre) == pytest.approx((spacing, shrink), abs=5e-5)
    assert result.total_shrink == 2 * result.shrink_to_centre


@pytest.mark.parametrize(("centre", "spacing", "shrink"), [(45, 2.5, 0.1875), (60, 2.0, 0.25)])
def test_the_handbook_has_its_rounded_constants(centre, spacing, shrink):
    result = three_point_saddle(4, centre, 40)

    assert result.outer_spacing_handbook == 4 * spacing
    assert result.shrink_to_centre_handbook == 4 * shrink
    assert result.total_shrink_handbook == 8 * shrink
    assert result.centre_mark_handbook == 40 + 4 * shrink


def test_without_a_common_constant_there_is_no_handbook_answer():
    odd = three_point_saddle(4, 50, 40)

    assert (odd.outer_spacing_handbook, odd.centre_mark_handbook, odd.marks_handbook) == (None, None, ())


@pytest.mark.parametrize("suffix", ["", "_handbook", "_arc"])
def test_the_outer_marks_lie_equally_far_on_both_sides_of_the_centre_mark(suffix):
    result = three_point_saddle(3, 45, 40)
    near, centre, far, apart = (
        getattr(result, f"{name}{suffix}") for name in ("near_mark", "centre_mark", "far_mark", "outer_spacing")
    )

    assert centre - near == pytest.approx(apart)
    assert far - centre == pytest.approx(apart)


def test_each_mark_says_its_reference_and_the_outer_hooks_point_at_the_centre():
    result = three_point_saddle(3, 45, 40)
    centre, near, far = result.marks

    assert [mark.position for mark in result.marks] == [result.centre_mark, result.near_mark, result.far_mark]
    assert [mark.angle for mark in result.marks] == [45, 22.5, 22.5]
    assert (centre.reference, near.reference, far.reference) == (
        Reference.SADDLE_CENTRE,
        Reference.TAKE_UP,
        Reference.TAKE_UP,
    )
    assert near.position < centre.position < far.position
    assert (near.hook_toward, far.hook_toward) == (End.FAR, End.MEASURED)


def test_the_tube_is_rolled_over_once_and_turned_end_for_end_for_the_last_bend():
    marks = three_point_saddle(3, 45, 40).marks

    assert [(mark.roll, mark.end_for_end) for mark in marks] == [(0, False), (180, False), (0, True)]
    assert [mark.order for mark in marks] == [1, 2, 3]


def test_without_a_distance_there_are_no_marks():
    result = three_point_saddle(3, 45)

    assert (result.centre_mark, result.near_mark_handbook, result.far_mark_arc) == (None, None, None)
    assert result.marks == result.marks_handbook == result.marks_arc == ()


def test_a_saddle_lower_than_its_own_arcs_has_no_arc_answer():
    low = three_point_saddle(0.5, 60, 40)

    assert low.outer_spacing == pytest.approx(1)
    assert (low.outer_spacing_arc, low.total_shrink_arc, low.marks_arc) == (None, None, ())


@pytest.mark.parametrize(("height", "told"), [(1.5, True), (3, False)])
def test_the_steps_tell_when_the_hook_is_short_of_room_for_an_outer_bend(height, told):
    _, steps = CATALOGUE["three_point_saddle"].trace({"height": height, "centre_angle": 60.0})

    assert ("three_point_saddle.hook-room" in [step.note.id for step in steps if step.note]) == told


@pytest.mark.parametrize("distance", [5.0, 9.0])
def test_a_near_bend_without_room_is_refused_with_the_least_distance(distance, refused):
    error = refused(three_point_saddle, 3, 45, distance)
    least = error.accepted.params["least"].value

    assert error.field == "distance"
    assert three_point_saddle(3, 45, least + 1e-9)
    refused(three_point_saddle, 3, 45, least - 0.01)


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"height": 0, "centre_angle": 45}, "height"),
        ({"height": 3, "centre_angle": 4}, "centre_angle"),
        ({"height": 3, "centre_angle": 121}, "centre_angle"),
        ({"height": 3, "centre_angle": 45, "distance": 0}, "distance"),
    ],
)
def test_what_is_impossible_is_refused(values, field, refused):
    assert refused(three_point_saddle, **values).field == field


@pytest.mark.parametrize("size", list(DEFAULT_SHOES))
def test_only_the_arc_comes_out_as_high_as_asked(size):
    values = {"height": 3, "centre_angle": 45, "distance": 45, "shoe": DEFAULT_SHOES[size]}
    missed = {basis: abs(misfit("three_point_saddle", values, basis)[0].miss) for basis in ("sharp-corner", "arc")}

    assert missed["arc"] < 1e-9 < missed["sharp-corner"]
