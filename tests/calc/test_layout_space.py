from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.calc.layout_space import START, Frame, Vector

COORDINATES = st.floats(-100, 100)
VECTORS = st.builds(Vector, COORDINATES, COORDINATES, COORDINATES)
TURNS = st.floats(-720, 720)


def test_left_is_left_as_seen_looking_along_with_up_above():
    assert Vector(0, 1, 0) == START.left


def test_rolled_clockwise_by_90_the_side_that_was_left_comes_up():
    rolled = START.rolled(90)

    assert rolled.up.angle_to(Vector(0, 1, 0)) == pytest.approx(0, abs=1e-9)


def test_bent_by_90_the_tube_runs_up_and_its_up_side_looks_back():
    bent = START.bent(90, 4)

    assert (bent.at - Vector(4, 0, 4)).length < 1e-12
    assert (bent.along - Vector(0, 0, 1)).length < 1e-12
    assert (bent.up - Vector(-1, 0, 0)).length < 1e-12


def test_a_sharp_corner_turns_on_the_spot():
    assert START.fed(7).bent(30, 0).at == Vector(7, 0, 0)


@given(st.lists(st.tuples(TURNS, st.floats(0, 179), st.floats(0, 20)), max_size=40))
def test_a_frame_stays_square_and_of_length_one(moves):
    frame = START
    for roll, angle, radius in moves:
        frame = frame.rolled(roll).bent(angle, radius)

    assert frame.along.length == pytest.approx(1)
    assert frame.up.length == pytest.approx(1)
    assert frame.along.dot(frame.up) == pytest.approx(0, abs=1e-9)


@given(VECTORS, VECTORS)
def test_a_cross_product_is_perpendicular_to_both(one, other):
    crossed = one.cross(other)

    assert crossed.dot(one) == pytest.approx(0, abs=1e-6)
    assert crossed.dot(other) == pytest.approx(0, abs=1e-6)


@given(VECTORS)
def test_the_part_across_a_direction_has_nothing_along_it(vector):
    along = Vector(1, 2, 2).unit

    assert vector.across(along).dot(along) == pytest.approx(0, abs=1e-9)


@given(st.floats(1e-7, 180))
def test_the_angle_between_two_directions_is_the_one_turned_by(angle):
    turned = Frame(START.at, START.along, START.up).bent(angle, 0).along

    assert START.along.angle_to(turned) == pytest.approx(angle, rel=1e-6)


def test_arithmetic_of_vectors():
    one, other = Vector(1, 2, 3), Vector(3, 2, 1)

    assert one + other == Vector(4, 4, 4)
    assert one - other == Vector(-2, 0, 2)
    assert -one == Vector(-1, -2, -3)
    assert one * 2 == Vector(2, 4, 6)
    assert one.dot(other) == 10
    assert Vector(3, 4, 12).length == 13
    assert Vector(0, 0, 9).unit == Vector(0, 0, 1)


def test_nothing_has_no_direction():
    with pytest.raises(ZeroDivisionError):
        _ = Vector(0, 0, 0).unit


def test_a_full_roll_changes_nothing():
    assert (START.rolled(360).up - START.up).length < 1e-12
    assert math.isclose(START.rolled(360).at.length, 0)
