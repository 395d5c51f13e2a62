"""
The offset against a tube bent in numbers: a second method that shares no formula with the calculation.

The tube is a line that is walked along in small steps. Where a shoe has its arc, the heading turns evenly; elsewhere
it stays. Where the shoe lies on the tube follows from mark, hook and shoe alone: the arc begins at
take-up - radius - half the outside diameter from the take-up mark, on the side away from the hook (trade reference,
where the arc lies; computed).
"""

from __future__ import annotations

import math

import pytest

from trainer.calc.offset import offset
from trainer.calc.shoes import DEFAULT_SHOES

STEPS = 20_000


def walked(stick, arcs):
    """Points and heading [rad] along a tube; `arcs` are (start, length, turn in rad)."""
    step = stick / STEPS
    x = y = 0.0
    points = []
    for index in range(STEPS):
        along = (index + 0.5) * step
        heading = sum(turn * min(1.0, max(0.0, (along - start) / length)) for start, length, turn in arcs)
        x += math.cos(heading) * step
        y += math.sin(heading) * step
        points.append((along, x, y, heading))
    return points


def arc_of(mark, shoe):
    """Where the arc of a mark begins and how long it is, walking from the measured end."""
    gap = shoe.take_up - shoe.radius - shoe.outside_diameter / 2
    length = shoe.radius * math.radians(mark.angle)
    start = mark.position + gap if mark.hook_toward == "measured-end" else mark.position - gap - length
    return start, length


def bent(marks, shoe, stick=100.0):
    """The tube bent on two marks, up at the near one and down at the far one."""
    near, far = sorted(marks, key=lambda mark: mark.position)
    turn = math.radians(near.angle)
    return walked(stick, [(*arc_of(near, shoe), turn), (*arc_of(far, shoe), -turn)])


def far_corner(points, depth, angle):
    """How far from the start the straight between the bends would meet the upper leg."""
    slope = math.radians(angle)
    rising = [(x, y) for _, x, y, heading in points if abs(heading - slope) < 1e-12]
    x, y = rising[len(rising) // 2]
    return x + (depth - y) / math.tan(slope)


CASES = [
    (depth, angle, size, hook)
    for depth, angle in ((6, 30), (3.5, 22.5), (8, 45), (2, 10), (12, 60))
    for size in ("1/2", "3/4", "1")
    for hook in ("far-end", "measured-end")
    if not (size == "1" and angle == 60)
]


@pytest.mark.parametrize(("depth", "angle", "size", "hook"), CASES)
def test_a_tube_bent_on_the_arc_marks_is_the_offset_that_was_wanted(depth, angle, size, hook):
    shoe = DEFAULT_SHOES[size]
    result = offset(depth, angle, 50, shoe=shoe, hook=hook)
    points = bent(result.marks_arc, shoe)

    _, end, height, heading = points[-1]
    assert heading == pytest.approx(0, abs=1e-12)
    assert height == pytest.approx(depth, abs=1e-3)
    assert far_corner(points, depth, angle) == pytest.approx(50, abs=2e-3)
    assert 100 - end == pytest.approx(result.shrink_arc, abs=1e-3)


def test_on_the_sharp_marks_the_hook_toward_the_obstacle_finishes_early_and_the_other_late():
    shoe = DEFAULT_SHOES["1/2"]
    early, late = (
        far_corner(bent(offset(6, 30, 50, hook=hook).marks, shoe), 6, 30) for hook in ("far-end", "measured-end")
    )

    assert early < 50 < late


def test_sharp_marks_bend_somewhat_high_on_a_real_shoe():
    """With R = 4 in, a 6 in rise at 45 degrees comes out 6-1/8 in by 1.414 and 6-1/16 in by 1.4 (trade reference, computed)."""
    radius, angle = 4.0, math.radians(45)
    length = radius * angle
    heights = []
    for spacing in (offset(6, 45).spacing, offset(6, 45).spacing_handbook):
        points = walked(100, [(40 - length / 2, length, angle), (40 + spacing - length / 2, length, -angle)])
        heights.append(points[-1][2])

    assert heights == pytest.approx([6 + 1 / 8, 6 + 1 / 16], abs=1 / 64)


@pytest.mark.parametrize(("depth", "angle"), [(6, 30), (4, 22.5), (10, 45), (3, 60)])
def test_sharp_corners_are_the_sides_of_a_triangle(depth, angle):
    """Spacing is the slope's length and shrink what it exceeds its run by: walked along corner by corner."""
    result = offset(depth, angle)
    run = math.sqrt(result.spacing**2 - depth**2)

    assert math.degrees(math.atan2(depth, run)) == pytest.approx(angle)
    assert result.spacing - run == pytest.approx(result.shrink)


def test_handbook_shrink_lies_near_the_true_arc_and_below_the_sharp_corner():
    """At 45 degrees: handbook 3/8, sharp 0.414, true arc 0.35 for R about 4 and a 6 in rise (trade reference, computed)."""
    result = offset(6, 45)

    assert result.shrink_arc < result.shrink_handbook < result.shrink
    assert result.shrink_arc / 6 == pytest.approx(0.35, abs=0.015)
