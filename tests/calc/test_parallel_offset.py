from __future__ import annotations

import pytest

from trainer.calc.marks import End
from trainer.calc.offset import offset
from trainer.calc.parallel_offset import parallel_offset


@pytest.mark.parametrize(("angle", "share"), [(10, 0.08749), (22.5, 0.19891), (30, 0.26795), (45, 0.41421)])
def test_the_shift_is_the_spacing_times_the_tangent_of_half_the_angle(angle, share):
    assert parallel_offset(2, angle).mark_shift == pytest.approx(2 * share, abs=2e-5)


def test_tubes_that_jump_away_from_the_rack_have_the_same_marks():
    away = parallel_offset(2, 30, plane="away-from-rack", neighbour=3, depth=6, distance=40)

    assert (away.mark_shift, away.neighbour_shift, away.neighbour_distance) == (0, 0, 40)
    assert away.marks == offset(6, 30, 40).marks


@pytest.mark.parametrize(("side", "way"), [("toward-turn", -1), ("from-turn", 1)])
@pytest.mark.parametrize("neighbour", [1, 3])
def test_both_marks_shift_alike_on_every_convention(side, way, neighbour):
    """Toward the turn they lie nearer to the start."""
    first = offset(6, 30, 40)
    own = parallel_offset(2, 30, side=side, neighbour=neighbour, depth=6, distance=40)

    assert own.neighbour_shift == neighbour * own.mark_shift
    for name in ("first_mark", "second_mark"):
        for suffix in ("", "_handbook", "_arc"):
            shifted = getattr(own, f"{name}{suffix}") - getattr(first, f"{name}{suffix}")
            assert shifted == pytest.approx(way * own.neighbour_shift)


def test_without_depth_or_distance_there_are_no_marks():
    alone, placed = parallel_offset(2, 30, depth=6), parallel_offset(2, 30, distance=40)

    assert (alone.neighbour_distance, alone.first_mark, alone.marks) == (None, None, ())
    assert placed.neighbour_distance == 40 - placed.mark_shift
    assert (placed.first_mark, placed.marks_arc) == (None, ())


@pytest.mark.parametrize("hook", End)
def test_a_neighbour_without_room_is_refused_with_the_least_distance_of_the_first_tube(hook, refused):
    def own(distance):
        return parallel_offset(4, 45, neighbour=4, depth=6, distance=distance, hook=hook)

    error = refused(own, 12)
    least = error.accepted.params["least"].value

    assert error.field == "distance"
    assert error.given == "12 in"
    assert own(least + 1e-9).marks
    refused(own, least - 0.01)


def test_a_neighbour_whose_corner_lies_before_the_start_is_refused(refused):
    error = refused(parallel_offset, 4, 45, neighbour=10, distance=12)

    assert (error.field, error.reason.id) == ("distance", "parallel_offset.off-the-tube")
    assert error.accepted.params["least"].value == pytest.approx(parallel_offset(4, 45, neighbour=10).neighbour_shift)


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"centre_spacing": 0}, "centre_spacing"),
        ({"angle": 0}, "angle"),
        ({"plane": "up"}, "plane"),
        ({"side": "left"}, "side"),
        ({"neighbour": 0}, "neighbour"),
        ({"depth": 0}, "depth"),
        ({"distance": 0}, "distance"),
        ({"hook": "up"}, "hook"),
    ],
)
def test_what_is_impossible_is_refused(values, field, refused):
    assert refused(parallel_offset, **{"centre_spacing": 2, "angle": 30, **values}).field == field
