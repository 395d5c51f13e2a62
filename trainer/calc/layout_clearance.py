"""Room between a bent tube and what stands in its way. Inches."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

from trainer.calc.layout import Bend, Centreline, Leg
from trainer.calc.layout_reach import Box
from trainer.calc.layout_space import Vector

__all__ = ["Block", "Clearance", "Cylinder", "Obstacle", "clearance"]

#: How exactly the nearest point is looked for [in].
_EXACT = 1e-4


class Obstacle(Protocol):
    """Something with a surface."""

    def distance(self, point: Vector) -> float:
        """From its surface to a point [in]; below 0 inside."""


@dataclass(frozen=True, slots=True)
class Cylinder:
    """
    A pipe, a rod or a round column, without end both ways.

    Args:
        point: Any point of its axis [in].
        axis: Direction of its axis, of length 1.
        diameter: Outside [in].
    """

    point: Vector
    axis: Vector
    diameter: float

    def distance(self, point: Vector) -> float:
        """From its surface to a point [in]; below 0 inside."""
        return (point - self.point).across(self.axis).length - self.diameter / 2


@dataclass(frozen=True, slots=True)
class Block:
    """
    A beam, a step in the wall or a box; a wall or a floor is a block that is large enough.

    Args:
        box: Where it is.
    """

    box: Box

    def distance(self, point: Vector) -> float:
        """From its surface to a point [in]; below 0 inside."""
        below, above = self.box.low - point, point - self.box.high
        beyond = (max(below.x, above.x), max(below.y, above.y), max(below.z, above.z))
        return math.hypot(*(max(part, 0.0) for part in beyond)) + min(max(beyond), 0.0)


@dataclass(frozen=True, slots=True)
class Clearance:
    """
    Where a tube comes nearest to an obstacle.

    Args:
        gap: Between the two surfaces [in]; below 0 the tube would have to go through it.
        station: Where that is, along the tube from its first end [in].
    """

    gap: float
    station: float


def clearance(tube: Centreline, outside_diameter: float, obstacle: Obstacle) -> Clearance:
    """
    The gap between a tube and an obstacle.

    Args:
        tube: The bent tube. Its ends are taken as round, so the gap is never said larger than it is.
        outside_diameter: Of the tube [in].
        obstacle: What it has to clear.

    >>> from trainer.calc.layout import BendProgram, lay_out
    >>> straight = lay_out(BendProgram((), 40))
    >>> pipe = Cylinder(Vector(20, 0, 3), Vector(0, 1, 0), 4.5)
    >>> found = clearance(straight, 0.706, pipe)
    >>> round(found.gap, 3), round(found.station, 2)
    (0.397, 20.0)
    """
    best = Clearance(math.inf, 0.0)
    for piece in tube.pieces:
        best = _nearer(piece, obstacle.distance, best)
    return Clearance(best.gap - outside_diameter / 2, best.station)


def _nearer(piece: Leg | Bend, distance: Callable[[Vector], float], best: Clearance) -> Clearance:
    """
    The least distance on a piece, when it is below the best so far.

    A step along the tube changes no distance by more than the step; so a stretch whose middle is too far off for its
    length can hold nothing nearer, and others are halved until they are too short to matter.
    """
    stretches = [(0.0, piece.length)]
    while stretches:
        begin, end = stretches.pop()
        middle, half = (begin + end) / 2, (end - begin) / 2
        gap = distance(piece.at(middle))
        if gap < best.gap:
            best = Clearance(gap, piece.station + middle)
        if gap - half < best.gap - _EXACT:
            stretches += [(begin, middle), (middle, end)]
    return best
