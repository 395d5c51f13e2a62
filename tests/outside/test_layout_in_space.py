"""
The centreline against a numerical integration of a curve in space.

Source: the frame of a space curve that turns no more than it must, T' = k1 U + k2 V, U' = -k1 T, V' = -k2 T, with the
curvature 1/R in the direction that the rolls so far have turned to (R. L. Bishop, "There is more than one way to frame
a curve", American Mathematical Monthly 82, 1975; from memory). Integrated by scipy's DOP853, arc by arc.
"""

from __future__ import annotations

import math
from random import Random

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from trainer.calc.layout import BendProgram, Move, lay_out


def integrated(program, stations):
    """Points at these stations, for a start at the origin along x with U up and V left."""
    state = np.array([0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 1, 0], dtype=float)
    points, begin, facing = [], 0.0, 0.0
    for length, curvature, roll in stretches(program):
        facing += math.radians(roll)
        up, left = curvature * math.cos(facing), curvature * math.sin(facing)

        def slope(_, here, up=up, left=left):
            tangent, side, other = here[3:6], here[6:9], here[9:12]
            return np.concatenate([tangent, up * side + left * other, -up * tangent, -left * tangent])

        inside = [at for at in stations if begin <= at < begin + length] if length else []
        times = [at - begin for at in inside]
        if length:
            found = solve_ivp(slope, (0, length), state, "DOP853", [*times, length], rtol=1e-11, atol=1e-11)
            points += list(found.y[:3, : len(times)].T)
            state = found.y[:, -1]
        begin += length
    return np.array([*points, state[:3]])


def stretches(program):
    for move in program.moves:
        yield move.feed, 0.0, 0.0
        yield move.radius * math.radians(move.angle), 1 / move.radius, move.roll
    yield program.tail, 0.0, 0.0


def drawn(seed):
    random = Random(seed)
    moves = [
        Move(random.uniform(0, 30), random.uniform(-180, 180), random.uniform(1, 170), random.uniform(2, 15))
        for _ in range(random.randint(1, 6))
    ]
    return BendProgram(tuple(moves), random.uniform(0, 30))


@pytest.mark.parametrize("seed", range(60))
def test_the_tube_is_the_integrated_curve(seed):
    program = drawn(seed)
    tube = lay_out(program)
    stations = [tube.length * part / 23 for part in range(23)]
    expected = integrated(program, stations)
    points = [*map(tube.at, stations), tube.end]

    actual = np.array([[point.x, point.y, point.z] for point in points])
    assert np.abs(actual - expected).max() < 1e-7
