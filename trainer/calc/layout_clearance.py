"""Room between a bent tube and what stands in its way. Inches."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Protocol

from msgspec import Struct

from trainer.calc.layout_reach import Box
from trainer.calc.layout_space import Vector
from trainer.calc.layout_tube import Bend, Centreline

__all__ = ["Block", "Clearance", "Cylinder", "Obstacle", "clearance"]

#: How exactly the nearest point is looked for [in].
_EXACT = 1e-5

_GOLDEN = (math.sqrt(5) - 1) / 2


class Obstacle(Protocol):
    """A convex body."""

    def distance(self, point: Vector) -> float:
        """From its surface to a point [in]; below 0 inside."""


class Cylinder(Struct, frozen=True):
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


class Block(Struct, frozen=True):
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


class Clearance(Struct, frozen=True):
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
        tube: The bent tube. Its ends are taken as round, so that the gap beside an end is rather said too small.
        outside_diameter: Of the tube [in].
        obstacle: What it has to clear.

    >>> from trainer.calc.layout import BendProgram, lay_out
    >>> straight = lay_out(BendProgram((), 40))
    >>> pipe = Cylinder(Vector(20, 0, 3), Vector(0, 1, 0), 4.5)
    >>> found = clearance(straight, 0.706, pipe)
    >>> round(found.gap, 3), round(found.station, 2)
    (0.397, 20.0)
    """
    middles = ((obstacle.distance(tube.at((begin + end) / 2)), begin, end) for begin, end in _stretches(tube))
    best = Clearance(math.inf, 0.0)
    for gap, begin, end in sorted(middles):
        # No distance changes by more than a step along the tube: what is further off than that holds nothing nearer.
        if gap - (end - begin) / 2 < best.gap - _EXACT:
            best = min(best, _nearest(tube, obstacle, begin, end), key=lambda one: one.gap)
    return Clearance(best.gap - outside_diameter / 2, best.station)


def _stretches(tube: Centreline) -> Iterator[tuple[float, float]]:
    """Stations between which the tube is straight: the legs, and short pieces of each arc."""
    for piece in tube.pieces:
        parts = 1
        if isinstance(piece, Bend) and piece.radius:
            parts = math.ceil(math.radians(piece.angle) / (2 * math.acos(1 - min(_EXACT / piece.radius, 1))))
        step = piece.length / parts
        yield from ((piece.station + part * step, piece.station + (part + 1) * step) for part in range(parts))


def _nearest(tube: Centreline, obstacle: Obstacle, begin: float, end: float) -> Clearance:
    """
    The least distance on a straight stretch, by cutting the stretch down in the golden ratio.

    Along a straight line the distance from a convex body falls to one lowest stretch and rises again.
    """
    while end - begin > _EXACT:
        inner = (begin + (end - begin) * (1 - _GOLDEN), begin + (end - begin) * _GOLDEN)
        gaps = [obstacle.distance(tube.at(station)) for station in inner]
        begin, end = (begin, inner[1]) if gaps[0] <= gaps[1] else (inner[0], end)
    middle = (begin + end) / 2
    return Clearance(obstacle.distance(tube.at(middle)), middle)
