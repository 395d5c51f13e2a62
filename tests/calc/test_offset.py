from __future__ import annotations

import pytest

from trainer.calc.marks import End, Reference
from trainer.calc.offset import offset
from trainer.calc.shoes import DEFAULT_SHOES, HOOK_NEEDS, Shoe


@pytest.mark.parametrize(
    ("angle", "spacing", "shrink"),
    [(10, 5.7588, 0.08749), (22.5, 2.6131, 0.19891), (30, 2.0, 0.26795), (45, 1.4142, 0.41421), (60, 1.1547, 0.57735)],
)
def test_sharp_corners_follow_the_right_triangle(angle, spacing, shrink):
    result = offset(1, angle)

    assert (result.spacing, result.shrink) == pytest.approx((spacing, shrink), abs=5e-5)


@pytest.mark.parametrize(
    ("angle", "spacing", "shrink"),
    [(10, 6.0, 0.0625), (15, 3.9, 0.125), (22.5, 2.6, 0.1875), (30, 2.0, 0.25), (45, 1.4, 0.375), (60, 1.2, 0.5)],
)
def test_the_handbook_has_its_rounded_constants(angle, spacing, shrink):
    result = offset(10, angle, 100)

    assert (result.spacing_handbook, result.shrink_handbook) == pytest.approx((10 * spacing, 10 * shrink))
    assert result.first_mark_handbook == pytest.approx(100 + 10 * shrink)
    assert result.second_mark_handbook == pytest.approx(100 + 10 * shrink - 10 * spacing)


def test_without_a_common_constant_there_is_no_handbook_answer():
    odd, half = offset(6, 33, 60), offset(6, 20, 60)

    assert (odd.spacing_handbook, odd.shrink_handbook, odd.marks_handbook) == (None, None, ())
    assert half.spacing_handbook == pytest.approx(17.4)
    assert (half.shrink_handbook, half.first_mark_handbook, half.marks_handbook) == (None, None, ())


def test_the_marks_follow_from_distance_shrink_and_spacing():
    result = offset(6, 30, 40)

    assert result.first_mark == 40 + result.shrink
    assert result.second_mark == result.first_mark - result.spacing


def test_without_a_distance_there_are_no_marks():
    result = offset(6, 30)

    assert (result.first_mark, result.second_mark_handbook, result.first_mark_arc) == (None, None, None)
    assert result.marks == result.marks_handbook == result.marks_arc == ()


def test_a_mark_is_a_full_instruction():
    first, second = offset(6, 30, 40).marks

    assert (first.position, second.position) == (offset(6, 30, 40).first_mark, offset(6, 30, 40).second_mark)
    assert (first.order, second.order) == (1, 2)
    assert (first.roll, second.roll) == (0, 180)
    assert first.measured_from is second.measured_from is End.MEASURED
    assert first.reference is second.reference is Reference.TAKE_UP
    assert first.hook_toward is second.hook_toward is End.FAR
    assert not first.end_for_end
    assert not second.end_for_end
    assert first.angle == second.angle == 30


def test_the_bend_nearer_to_where_the_hook_points_comes_first():
    toward_obstacle = offset(6, 30, 40, hook="far-end").marks
    toward_start = offset(6, 30, 40, hook="measured-end").marks

    assert toward_obstacle[0].position > toward_obstacle[1].position
    assert toward_start[0].position < toward_start[1].position
    assert toward_start[0].hook_toward is toward_start[1].hook_toward is End.MEASURED


def test_the_hook_moves_the_marks_of_the_true_arc_and_no_others():
    far, measured = (offset(6, 30, 40, hook=hook) for hook in ("far-end", "measured-end"))

    assert far.first_mark == measured.first_mark
    assert far.spacing_arc == measured.spacing_arc
    assert far.first_mark_arc > measured.first_mark_arc


def test_each_basis_gives_its_own_marks():
    result = offset(6, 30, 40)

    assert result.marks_handbook[0].position == result.first_mark_handbook
    assert result.marks_arc[1].position == result.second_mark_arc


def test_arcs_that_would_meet_have_no_arc_answer():
    tight = offset(2, 45, 40)

    assert tight.spacing == pytest.approx(2.8284, abs=1e-4)
    assert (tight.spacing_arc, tight.shrink_arc, tight.first_mark_arc, tight.marks_arc) == (None, None, None, ())
    assert offset(6, 45, 40).spacing_arc is not None


def test_the_shop_shoe_goes_before_the_usual_one():
    own = Shoe("1/2", take_up=5.25, radius=4.2, outside_diameter=0.706)

    assert offset(6, 30, 40, shoe=own).spacing_arc != offset(6, 30, 40).spacing_arc
    assert offset(6, 30, 40, shoe=own).spacing == offset(6, 30, 40).spacing


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"depth": 0, "angle": 30}, "depth"),
        ({"depth": -1, "angle": 30}, "depth"),
        ({"depth": 6, "angle": 0}, "angle"),
        ({"depth": 6, "angle": 90}, "angle"),
        ({"depth": 6, "angle": 30, "distance": 0}, "distance"),
        ({"depth": 6, "angle": 30, "hook": "up"}, "hook"),
    ],
)
def test_what_is_impossible_is_refused_before_any_arithmetic(values, field, refused):
    assert refused(offset, **values).field == field


@pytest.mark.parametrize("hook", ["far-end", "measured-end"])
@pytest.mark.parametrize("distance", [5.0, 12.0])
def test_a_near_bend_without_room_is_refused_with_the_least_distance(distance, hook, refused):
    error = refused(offset, 6, 30, distance, hook=hook)

    least = error.accepted.params["least"].value
    assert error.reason.id == ("near_end.off-the-tube" if distance == 5 else "near_end.no-room")
    assert offset(6, 30, least + 1e-9, hook=hook).second_mark >= HOOK_NEEDS
    refused(offset, 6, 30, least - 0.01, hook=hook)


def test_behind_the_near_mark_the_arc_itself_must_be_on_the_tube(refused):
    shoe = DEFAULT_SHOES["1-1/4"]
    needs = refused(offset, 6, 45, 8, shoe=shoe).reason.params["needed"].value

    assert needs == pytest.approx(shoe.mark_to_arc + 9.6 * 0.7853981634)
