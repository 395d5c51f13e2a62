from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from trainer.calc.layout import lay_out
from trainer.calc.layout_measure import corner
from trainer.calc.layout_path import Turn, fit_path, path_of_legs
from trainer.calc.layout_space import START, Frame, Vector
from trainer.calc.message import InputError
from trainer.calc.shoes import DEFAULT_SHOE
from trainer.text.words import error_text

LEGS = st.floats(10, 60)
TURNS = st.builds(Turn, st.floats(2, 90), st.floats(-180, 180))
#: With the usual shoe of 1/2, 10 in from corner to corner hold two 90s.
PATHS = st.integers(0, 4).flatmap(
    lambda corners: st.tuples(
        st.lists(LEGS, min_size=corners + 1, max_size=corners + 1), st.lists(TURNS, min_size=corners, max_size=corners)
    )
)
AWAY = Frame(Vector(3, -2, 8), Vector(0.0, 0.6, 0.8), Vector(1.0, 0.0, 0.0))


def near(one, other, within=1e-6):
    return (one - other).length < within


@given(PATHS)
def test_the_tube_runs_through_the_ends_and_its_legs_meet_in_the_corners(path):
    legs, turns = path
    assume(sum(turn.angle for turn in turns) <= 360)
    points = path_of_legs(legs, turns, AWAY)
    fitted = fit_path(points, DEFAULT_SHOE)
    tube = lay_out(fitted.program, fitted.start)

    assert near(tube.start, points[0])
    assert near(tube.end, points[-1])
    for bend, point in enumerate(points[1:-1]):
        assert near(corner(tube, bend), point)
    assert fitted.program.total_angle == pytest.approx(sum(turn.angle for turn in turns))


@given(PATHS)
def test_the_rolls_of_the_program_are_those_of_the_turns(path):
    legs, turns = path
    assume(sum(turn.angle for turn in turns) <= 360)
    program = fit_path(path_of_legs(legs, turns), DEFAULT_SHOE).program

    for move, turn in zip(program.moves[1:], turns[1:], strict=True):
        assert math.cos(math.radians(move.roll - turn.roll)) == pytest.approx(1)


def test_the_first_roll_is_nothing_and_the_first_bend_goes_up_from_the_start():
    fitted = fit_path(path_of_legs([20, 20], [Turn(90, 90)]), DEFAULT_SHOE)

    assert fitted.program.moves[0].roll == 0
    assert near(fitted.start.up, Vector(0, 1, 0))


def test_legs_and_turns_make_points():
    points = path_of_legs([10, 12, 14], [Turn(90), Turn(90, 90)])

    assert [near(*pair) for pair in zip(points, corners_of_a_stair(), strict=True)] == [True] * 4


def corners_of_a_stair():
    return (Vector(0, 0, 0), Vector(10, 0, 0), Vector(10, 0, 12), Vector(10, 14, 12))


def test_a_point_on_a_straight_leg_is_no_corner():
    with_point = fit_path([Vector(0, 0, 0), Vector(7, 0, 0), Vector(20, 0, 0), Vector(20, 0, 15)], DEFAULT_SHOE)
    without = fit_path([Vector(0, 0, 0), Vector(20, 0, 0), Vector(20, 0, 15)], DEFAULT_SHOE)

    assert with_point == without


@pytest.mark.parametrize("end", [Vector(30, 0, 0), Vector(0, 30, 0), Vector(0, 0, 30), Vector(0, 0, -30)])
def test_a_straight_path_is_a_straight_tube_whichever_way_it_runs(end):
    fitted = fit_path([Vector(0, 0, 0), end], DEFAULT_SHOE)

    assert fitted.program.moves == ()
    assert near(lay_out(fitted.program, fitted.start).end, end)
    assert fitted.start.up.dot(fitted.start.along) == pytest.approx(0)


def test_the_arcs_make_a_piece_shorter_than_its_path():
    points = path_of_legs([20, 30, 20], [Turn(90), Turn(45, 90)])
    developed = fit_path(points, DEFAULT_SHOE).program.length

    assert developed < sum((there - here).length for here, there in pairwise(points))


@pytest.mark.parametrize(
    ("points", "reason"),
    [
        ([], "layout.path.points"),
        ([Vector(0, 0, 0)], "layout.path.points"),
        ([Vector(0, 0, 0), Vector(0, 0, 0), Vector(9, 0, 0)], "layout.path.same-point"),
        (path_of_legs([20, 20], [Turn(91)]), "layout.path.sharp"),
        ([Vector(0, 0, 0), Vector(20, 0, 0), Vector(0, 0, 0)], "layout.path.sharp"),
        (path_of_legs([20, 20], [Turn(0.5)]), "layout.path.flat"),
        (path_of_legs([20, 8.9, 20], [Turn(90), Turn(90)]), "layout.path.short-leg"),
        (path_of_legs([4.4, 20], [Turn(90)]), "layout.path.short-leg"),
        (path_of_legs([20, 4.4], [Turn(90)]), "layout.path.short-leg"),
        (path_of_legs([20] * 6, [Turn(90, 180)] * 4 + [Turn(10)]), "layout.path.total"),
    ],
)
def test_a_path_that_can_not_be_bent_is_refused_with_a_sentence(points, reason):
    with pytest.raises(InputError) as refusal:
        fit_path(points, DEFAULT_SHOE)

    assert refusal.value.reason.id == reason
    assert refusal.value.field == "path"
    assert "{" not in error_text(refusal.value)


def test_360_degrees_together_are_allowed():
    four = fit_path(path_of_legs([20] * 5, [Turn(90, 180)] * 4), DEFAULT_SHOE)

    assert four.program.total_angle == pytest.approx(360)


def test_a_bender_that_bends_further_may_say_so():
    points = path_of_legs([20, 20], [Turn(120)])

    assert fit_path(points, DEFAULT_SHOE, most_angle=120).program.moves[0].angle == pytest.approx(120)


def test_legs_and_turns_that_do_not_fit_are_a_mistake_of_the_caller():
    with pytest.raises(ValueError, match="zip"):
        path_of_legs([10, 10], [])


def test_a_path_starts_on_the_tube_axis_unless_told_otherwise():
    assert path_of_legs([10], [])[0] == START.at
