"""The bent tube as a line in space: straight legs and arcs by turns. Inches and degrees."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from msgspec import Struct

from trainer.calc.layout_space import Frame, Vector

__all__ = ["Bend", "Centreline", "Leg"]


class Leg(Struct, frozen=True):
    """
    A straight stretch; it can have no length where two arcs touch.

    Args:
        station: Where it begins, along the tube from its first end [in].
        start: The point where it begins.
        along: Its direction, of length 1.
        length: How long it is [in].
    """

    station: float
    start: Vector
    along: Vector
    length: float

    @property
    def end(self) -> Vector:
        """The point where it ends."""
        return self.start + self.along * self.length

    def at(self, ahead: float) -> Vector:
        """The point so far behind its start [in]."""
        return self.start + self.along * ahead


class Bend(Struct, frozen=True):
    """
    An arc.

    Args:
        station: Where it begins, along the tube from its first end [in].
        start: The point where it begins.
        along: Direction of the tube there, of length 1.
        toward: From there toward the arc's centre, of length 1.
        angle: How far it turns [deg].
        radius: To the centreline [in].
    """

    station: float
    start: Vector
    along: Vector
    toward: Vector
    angle: float
    radius: float

    @property
    def length(self) -> float:
        """Along the centreline [in]."""
        return self.radius * math.radians(self.angle)

    @property
    def end(self) -> Vector:
        """The point where it ends."""
        return self._turned(self.angle).at

    @property
    def centre(self) -> Vector:
        """Centre of the arc."""
        return self.start + self.toward * self.radius

    def at(self, ahead: float) -> Vector:
        """The point so far behind its start, along the arc [in]."""
        return self._turned(math.degrees(ahead / self.radius)).at if self.radius else self.start

    def reversed(self, station: float) -> Bend:
        """The same arc run through from its other end."""
        turned = self._turned(self.angle)
        return Bend(station, turned.at, -turned.along, turned.up, self.angle, self.radius)

    def _turned(self, angle: float) -> Frame:
        return Frame(self.start, self.along, self.toward).bent(angle, self.radius)


@dataclass(frozen=True)
class Centreline:
    """
    A bent tube: its legs and the bends between them, from one end to the other.

    Args:
        legs: One more than there are bends.
        bends: In their order along the tube.
    """

    legs: tuple[Leg, ...]
    bends: tuple[Bend, ...]

    @cached_property
    def pieces(self) -> tuple[Leg | Bend, ...]:
        """Legs and bends by turns."""
        between = zip(self.bends, self.legs[1:], strict=True)
        return (self.legs[0], *(piece for pair in between for piece in pair))

    @property
    def start(self) -> Vector:
        """The first end."""
        return self.legs[0].start

    @property
    def end(self) -> Vector:
        """The other end."""
        return self.legs[-1].end

    @property
    def length(self) -> float:
        """Along the tube [in]."""
        return self.legs[-1].station + self.legs[-1].length

    def at(self, station: float) -> Vector:
        """The point so far along the tube from its first end [in]; beyond an end the tube is thought on straight."""
        piece = self.pieces[max(bisect_right(self._stations, station) - 1, 0)]
        return piece.at(station - piece.station)

    def points(self, step: float) -> Iterator[Vector]:
        """Points along the tube for a drawing: both ends of each leg, and on arcs one at least every `step` [in]."""
        for piece in self.pieces:
            parts = max(math.ceil(piece.length / step), 1) if isinstance(piece, Bend) else 1
            yield from (piece.at(piece.length * part / parts) for part in range(parts))
        yield self.end

    def from_other_end(self) -> Centreline:
        """The same tube in the same place, run through from its other end: for measures that start there."""
        legs = tuple(
            Leg(self.length - leg.station - leg.length, leg.end, -leg.along, leg.length) for leg in reversed(self.legs)
        )
        bends = tuple(bend.reversed(self.length - bend.station - bend.length) for bend in reversed(self.bends))
        return Centreline(legs, bends)

    @cached_property
    def _stations(self) -> Sequence[float]:
        return [piece.station for piece in self.pieces]
