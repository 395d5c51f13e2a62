"""
Flat pieces against two other programs: sympy in exact numbers, and shapely with polygons.

Source: plane geometry; both libraries know nothing of tubes.
"""

from __future__ import annotations

from random import Random

import pytest
import sympy
from shapely import LineString, Point, box

from trainer.calc.layout import BendProgram, Move, lay_out
from trainer.calc.layout_clearance import Block, Cylinder, clearance
from trainer.calc.layout_measure import corner_distance, full_height_distance, leg_offset, stub_height
from trainer.calc.layout_reach import Box, envelope
from trainer.calc.layout_space import Vector

OD = 0.706


def exact_end(pieces):
    """Where a flat piece ends, and its direction: straights ("s", length) and arcs ("a", radius, signed degrees)."""
    x = z = turned = sympy.Integer(0)
    for kind, size, *more in pieces:
        if kind == "s":
            x, z = x + size * sympy.cos(turned), z + size * sympy.sin(turned)
        else:
            after = turned + sympy.rad(more[0])
            side = sympy.sign(more[0])
            x += side * size * (sympy.sin(after) - sympy.sin(turned))
            z += side * size * (sympy.cos(turned) - sympy.cos(after))
            turned = after
    return x, z, turned


@pytest.mark.parametrize("angle", [10, 15, sympy.Rational(45, 2), 30, 45, 60])
@pytest.mark.parametrize("radius", [4, sympy.Rational(9, 2), sympy.Rational(48, 5)])
def test_an_offset_in_exact_numbers(angle, radius):
    first, between = sympy.Integer(20), sympy.Rational(25, 4)
    until_far_arc = [("s", first), ("a", radius, angle), ("s", between), ("a", radius, -angle)]
    x, z, direction = exact_end(until_far_arc)
    sizes = [float(size) for size in (first, angle, radius, between)]
    tube = lay_out(BendProgram((Move(sizes[0], 0, *sizes[1:3]), Move(sizes[3], 180, *sizes[1:3])), 30))

    assert direction == 0
    assert leg_offset(tube, 0, 2) == pytest.approx(float(z.evalf(30)), abs=1e-12)
    assert full_height_distance(tube, 1) == pytest.approx(float(x.evalf(30)), abs=1e-12)
    near_corner = first + radius * sympy.tan(sympy.rad(angle) / 2)
    far_corner = near_corner + z / sympy.tan(sympy.rad(angle))
    assert corner_distance(tube, 1) == pytest.approx(float(far_corner.evalf(30)), abs=1e-12)


def flat(seed):
    random = Random(seed)
    moves = [
        Move(random.uniform(5, 30), random.choice((0, 180)), random.uniform(5, 90), random.uniform(4, 10))
        for _ in range(random.randint(1, 3))
    ]
    return random, lay_out(BendProgram(tuple(moves), random.uniform(5, 30)))


def line_of(tube):
    return LineString([(point.x, point.z) for point in tube.points(0.01)])


@pytest.mark.parametrize("seed", range(25))
def test_the_box_around_a_flat_piece_is_that_of_its_outline(seed):
    _, tube = flat(seed)
    low_x, low_z, high_x, high_z = line_of(tube).buffer(OD / 2, cap_style="flat", quad_segs=64).bounds
    found = envelope(tube, OD)

    assert (found.low.x, found.low.z) == pytest.approx((low_x, low_z), abs=1e-3)
    assert (found.high.x, found.high.z) == pytest.approx((high_x, high_z), abs=1e-3)


@pytest.mark.parametrize("seed", range(25))
def test_the_gap_to_a_pipe_across_is_that_of_two_outlines(seed):
    random, tube = flat(seed)
    x, z, diameter = random.uniform(0, 60), random.uniform(-20, 30), random.uniform(1, 6)
    gap = line_of(tube).distance(Point(x, z)) - diameter / 2 - OD / 2

    pipe = Cylinder(Vector(x, 0, z), Vector(0, 1, 0), diameter)
    assert clearance(tube, OD, pipe).gap == pytest.approx(gap, abs=1e-4)


@pytest.mark.parametrize("seed", range(25))
def test_the_gap_to_a_beam_across_is_that_of_two_outlines(seed):
    random, tube = flat(seed)
    x, z, wide, high = random.uniform(0, 60), random.uniform(-30, 30), random.uniform(1, 12), random.uniform(1, 12)
    gap = line_of(tube).distance(box(x, z, x + wide, z + high))

    beam = Block(Box(Vector(x, -40, z), Vector(x + wide, 40, z + high)))
    found = clearance(tube, OD, beam).gap + OD / 2
    assert max(found, 0) == pytest.approx(gap, abs=1e-4)


def test_a_stub_in_exact_numbers():
    radius, height = sympy.Rational(9, 2), sympy.Integer(10)
    straight = height - radius - sympy.Rational(353, 1000)
    tube = lay_out(BendProgram((Move(float(straight), 0, 90, 4.5),), 20))

    assert stub_height(tube, OD) == pytest.approx(10)
