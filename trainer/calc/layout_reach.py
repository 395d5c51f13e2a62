"""How far a bent tube reaches in a direction, its surface included, and the box that it fits in. Inches."""

from __future__ import annotations

import math

from msgspec import Struct

from trainer.calc.layout_space import Vector
from trainer.calc.layout_tube import Bend, Centreline

__all__ = ["Box", "bend_reach", "envelope", "reach"]

_NOWHERE = 1e-12


class Box(Struct, frozen=True):
    """
    A box with its edges along x, y and z.

    Args:
        low: Its corner with the least coordinates [in].
        high: Its corner with the greatest [in].
    """

    low: Vector
    high: Vector

    @property
    def size(self) -> Vector:
        """Its three edges [in]."""
        return self.high - self.low


def envelope(tube: Centreline, outside_diameter: float) -> Box:
    """
    The box that the tube just fits in, edges along the axes of `layout_space` [in].

    >>> from trainer.calc.layout import BendProgram, Move, lay_out
    >>> size = envelope(lay_out(BendProgram((Move(8, 0, 90, 4),), 10)), 1).size
    >>> round(size.x, 6), round(size.y, 6), round(size.z, 6)
    (12.5, 1.0, 14.5)
    """
    axes = (Vector(1.0, 0.0, 0.0), Vector(0.0, 1.0, 0.0), Vector(0.0, 0.0, 1.0))
    low = Vector(*(-reach(tube, -axis, outside_diameter) for axis in axes))
    high = Vector(*(reach(tube, axis, outside_diameter) for axis in axes))
    return Box(low, high)


def reach(tube: Centreline, direction: Vector, outside_diameter: float) -> float:
    """
    How far the tube's surface reaches, measured from the origin.

    Args:
        tube: The bent tube; its ends are cut square.
        direction: Where to, of length 1.
        outside_diameter: Of the tube [in]; 0 for its centreline.
    """
    ends = (_disc(point, leg.along, direction, outside_diameter) for leg in tube.legs for point in (leg.start, leg.end))
    return max(*ends, *(bend_reach(bend, direction, outside_diameter) for bend in tube.bends))


def bend_reach(bend: Bend, direction: Vector, outside_diameter: float) -> float:
    """As `reach`, of one arc alone."""
    last = bend.reversed(0.0)
    most = max(
        _disc(bend.start, bend.along, direction, outside_diameter),
        _disc(last.start, last.along, direction, outside_diameter),
    )
    in_plane = direction.across(bend.toward.cross(bend.along))
    if in_plane.length < _NOWHERE:
        return most
    # Where the arc's own outward direction comes nearest to the wanted one; further on or back it reaches less.
    outermost = math.degrees(math.atan2(in_plane.dot(bend.along), -in_plane.dot(bend.toward)))
    if not 0 < outermost < bend.angle:
        return most
    return bend.centre.dot(direction) + bend.radius * in_plane.length + outside_diameter / 2


def _disc(centre: Vector, along: Vector, direction: Vector, diameter: float) -> float:
    """Reach of the tube's round cross-section."""
    return centre.dot(direction) + direction.across(along).length * diameter / 2
