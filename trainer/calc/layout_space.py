"""
Points, directions and moving frames in space: what a bent tube is laid out with. Inches and degrees.

Axes: the tube's measured end lies at the origin and its first leg runs along x; z is up, the side on which the
bender's shoe lies before the first roll; y is left, as seen looking along x.
"""

from __future__ import annotations

import math

from msgspec import Struct

__all__ = ["START", "Frame", "Vector"]


class Vector(Struct, frozen=True):
    """A point, or a direction with a length, by its three coordinates [in]."""

    x: float
    y: float
    z: float

    def __add__(self, other: Vector) -> Vector:
        return Vector(self.x + other.x, self.y + other.y, self.z + other.z)

    def __sub__(self, other: Vector) -> Vector:
        return Vector(self.x - other.x, self.y - other.y, self.z - other.z)

    def __mul__(self, factor: float) -> Vector:
        return Vector(self.x * factor, self.y * factor, self.z * factor)

    def __neg__(self) -> Vector:
        return Vector(-self.x, -self.y, -self.z)

    @property
    def length(self) -> float:
        """How long it is."""
        return math.hypot(self.x, self.y, self.z)

    @property
    def unit(self) -> Vector:
        """The same direction, one inch long; ZeroDivisionError for no direction."""
        return self * (1 / self.length)

    def dot(self, other: Vector) -> float:
        """The part of one along the other, times the other's length."""
        return self.x * other.x + self.y * other.y + self.z * other.z

    def cross(self, other: Vector) -> Vector:
        """
        Perpendicular to both, right-handed.

        >>> Vector(1, 0, 0).cross(Vector(0, 1, 0))
        Vector(x=0, y=0, z=1)
        """
        return Vector(
            self.y * other.z - self.z * other.y,
            self.z * other.x - self.x * other.z,
            self.x * other.y - self.y * other.x,
        )

    def across(self, along: Vector) -> Vector:
        """What is left of it when its part along a direction of length 1 is taken away."""
        return self - along * self.dot(along)

    def angle_to(self, other: Vector) -> float:
        """Angle between the two, 0 to 180 [deg]; exact for the smallest ones too."""
        return math.degrees(math.atan2(self.cross(other).length, self.dot(other)))


class Frame(Struct, frozen=True):
    """
    A place on the tube: where it is, where the tube goes, and which side of it is up.

    Args:
        at: The point on the centreline [in].
        along: Direction of the tube toward its far end, of length 1.
        up: The side of the tube on which the shoe lies, across the tube, of length 1.
    """

    at: Vector
    along: Vector
    up: Vector

    @property
    def left(self) -> Vector:
        """The third direction, left as seen looking along the tube."""
        return self.up.cross(self.along)

    def fed(self, length: float) -> Frame:
        """The place so much straight tube further on."""
        return Frame(self.at + self.along * length, self.along, self.up)

    def rolled(self, angle: float) -> Frame:
        """
        The same place after the tube is rolled clockwise, as seen looking from the measured end along the tube.

        The tube turns and the shoe stays: on the tube, the side that is up moves over to the left.
        """
        turn = math.radians(angle)
        return Frame(self.at, self.along, self.up * math.cos(turn) + self.left * math.sin(turn))

    def bent(self, angle: float, radius: float) -> Frame:
        """The place at the end of an arc that begins here and curves toward `up`; radius 0 is a sharp corner."""
        turn = math.radians(angle)
        ahead, aside = math.sin(turn), 1 - math.cos(turn)
        return Frame(
            self.at + self.along * (radius * ahead) + self.up * (radius * aside),
            self.along * (1 - aside) + self.up * ahead,
            self.up * (1 - aside) - self.along * ahead,
        )


#: The measured end of the straight tube.
START = Frame(Vector(0.0, 0.0, 0.0), Vector(1.0, 0.0, 0.0), Vector(0.0, 0.0, 1.0))
