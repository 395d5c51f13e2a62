from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trainer.calc.layout import BendProgram, Move, lay_out
from trainer.calc.layout_clearance import Block, Cylinder, clearance
from trainer.calc.layout_reach import Box
from trainer.calc.layout_space import START, Vector

OD = 0.706
MOVES = st.builds(Move, st.floats(0, 20), st.floats(-180, 180), st.floats(1, 120), st.floats(2, 12))
PROGRAMS = st.builds(lambda moves, tail: BendProgram(tuple(moves), tail), st.lists(MOVES, max_size=3), st.floats(0, 40))
PLACES = st.builds(Vector, st.floats(-10, 50), st.floats(-20, 20), st.floats(-20, 30))
DIRECTIONS = st.builds(lambda turn, lift: START.rolled(turn).bent(lift, 0).along, st.floats(0, 360), st.floats(0, 180))
CYLINDERS = st.builds(Cylinder, PLACES, DIRECTIONS, st.floats(0.5, 8))
SIZES = st.builds(Vector, st.floats(0.5, 20), st.floats(0.5, 20), st.floats(0.5, 20))
BLOCKS = st.builds(lambda low, size: Block(Box(low, low + size)), PLACES, SIZES)

STRAIGHT = lay_out(BendProgram((), 40))
SADDLE = lay_out(BendProgram((Move(20, 0, 22.5, 4.5), Move(8, 180, 45, 4.5), Move(8, 180, 22.5, 4.5)), 20))


def fine(tube):
    stations = (tube.length * part / 600 for part in range(601))
    return [tube.at(station) for station in stations]


@settings(max_examples=25)
@given(PROGRAMS, CYLINDERS | BLOCKS)
def test_nothing_on_the_tube_is_nearer_than_the_clearance(program, obstacle):
    tube = lay_out(program)
    found = clearance(tube, OD, obstacle)
    nearest = min(map(obstacle.distance, fine(tube))) - OD / 2

    assert found.gap <= nearest + 1e-4
    assert found.gap >= nearest - tube.length / 600
    assert obstacle.distance(tube.at(found.station)) - OD / 2 == pytest.approx(found.gap)


def test_a_pipe_across_and_a_pipe_along():
    assert clearance(STRAIGHT, OD, Cylinder(Vector(20, 0, 5), Vector(0, 1, 0), 4)).gap == pytest.approx(3 - OD / 2)
    assert clearance(STRAIGHT, OD, Cylinder(Vector(20, 0, 5), Vector(1, 0, 0), 4)).gap == pytest.approx(3 - OD / 2)


def test_a_tube_straight_through_a_pipe_has_less_than_no_room():
    found = clearance(STRAIGHT, OD, Cylinder(Vector(20, 0, 0), Vector(0, 1, 0), 4))

    assert found.gap == pytest.approx(-2 - OD / 2)
    assert found.station == pytest.approx(20, abs=1e-3)


def test_a_saddle_over_a_pipe_comes_nearest_at_its_crown():
    tube = SADDLE
    middle = tube.bends[1].station + tube.bends[1].length / 2
    crown = tube.at(middle)
    found = clearance(tube, OD, Cylinder(Vector(crown.x, 0, crown.z + 3), Vector(0, 1, 0), 4.5))

    assert found.gap == pytest.approx(3 - 2.25 - OD / 2)
    assert found.station == pytest.approx(middle, abs=0.01)


def test_around_a_pipe_in_the_centre_of_a_bend_it_is_the_same_everywhere():
    tube = lay_out(BendProgram((Move(0, 0, 90, 6),), 0))

    assert clearance(tube, OD, Cylinder(tube.bends[0].centre, Vector(0, 1, 0), 4)).gap == pytest.approx(4 - OD / 2)


def test_a_block_beside_above_at_a_corner_and_around_the_tube():
    assert clearance(STRAIGHT, OD, Block(Box(Vector(10, -5, 2), Vector(12, 5, 4)))).gap == pytest.approx(2 - OD / 2)
    assert clearance(STRAIGHT, OD, Block(Box(Vector(10, 3, 4), Vector(12, 5, 6)))).gap == pytest.approx(5 - OD / 2)
    assert clearance(STRAIGHT, OD, Block(Box(Vector(10, -2, -2), Vector(30, 2, 2)))).gap == pytest.approx(-2 - OD / 2)


def test_a_sharp_corner_and_an_arc_too_small_to_cut_up_are_looked_at_too():
    tube = lay_out(BendProgram((Move(10, 0, 90, 0), Move(10, 0, 90, 1e-6)), 10))

    assert clearance(tube, OD, Cylinder(Vector(12, 0, 0), Vector(0, 1, 0), 2)).gap == pytest.approx(1 - OD / 2)
