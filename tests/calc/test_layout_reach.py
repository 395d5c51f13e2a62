from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trainer.calc.layout import BendProgram, Move, lay_out
from trainer.calc.layout_reach import bend_reach, envelope, reach
from trainer.calc.layout_space import START, Frame, Vector

OD = 1.163
MOVES = st.builds(Move, st.floats(0, 20), st.floats(-180, 180), st.floats(1, 170), st.floats(2, 12))
PROGRAMS = st.builds(lambda moves, tail: BendProgram(tuple(moves), tail), st.lists(MOVES, max_size=4), st.floats(0, 40))
DIRECTIONS = st.builds(lambda turn, lift: START.rolled(turn).bent(lift, 0).along, st.floats(0, 360), st.floats(0, 180))


def surface(tube):
    """Points all around the tube, thirty rings a piece."""
    for piece in tube.pieces:
        for part in range(31):
            ahead = piece.length * part / 30
            here = piece.at(ahead)
            step = (piece.at(ahead + 1e-4) - piece.at(ahead - 1e-4)).unit
            side = min((START.along, START.up, START.left), key=lambda way: abs(way.dot(step))).across(step).unit
            other = step.cross(side)
            for turn in range(0, 360, 15):
                around = math.radians(turn)
                yield here + (side * math.cos(around) + other * math.sin(around)) * (OD / 2)


@settings(max_examples=25)
@given(PROGRAMS, DIRECTIONS)
def test_no_point_of_the_surface_lies_beyond_the_reach_and_one_lies_near_it(program, direction):
    tube = lay_out(program)
    most = max(point.dot(direction) for point in surface(tube))

    assert most <= reach(tube, direction, OD) + 1e-3
    assert most >= reach(tube, direction, OD) - 0.06


def test_a_straight_tube_reaches_no_further_along_than_its_square_end():
    tube = lay_out(BendProgram((), 40))

    assert reach(tube, Vector(1, 0, 0), OD) == 40
    assert reach(tube, Vector(0, 1, 0), OD) == OD / 2


def test_the_box_around_an_offset():
    tube = lay_out(BendProgram((Move(20, 0, 30, 4.5), Move(8, 180, 30, 4.5)), 30))
    box = envelope(tube, OD)

    assert box.low.x == 0
    assert box.high.x == pytest.approx(tube.end.x)
    assert box.low.z == pytest.approx(-OD / 2)
    assert box.high.z == pytest.approx(tube.end.z + OD / 2)
    assert box.size.y == pytest.approx(OD)


def test_square_to_its_plane_an_arc_reaches_half_a_diameter():
    (bend,) = lay_out(BendProgram((Move(20, 0, 90, 4.5),), 8)).bends

    assert bend_reach(bend, Vector(0, 1, 0), OD) == pytest.approx(OD / 2)


def test_a_bend_past_90_reaches_out_to_its_side():
    (bend,) = lay_out(BendProgram((Move(0, 0, 120, 4.5),), 0), Frame(START.at, START.along, START.up)).bends

    assert bend_reach(bend, Vector(1, 0, 0), OD) == pytest.approx(4.5 + OD / 2)
