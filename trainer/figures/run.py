"""
A bent tube as it is bent: straight pieces and arcs, walked from one end to the other.

The walk takes lengths along the tube and angles of bends, nothing else; where the tube then lies follows, as it does
on the floor. So a wrong mark draws the tube that it would really give.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from msgspec import Struct

from trainer.figures.svg import Point, units

__all__ = ["Bend", "Piece", "Run", "Station", "pieces_between"]


class Piece(Struct, frozen=True):
    """
    A straight piece or an arc of the centre line.

    Args:
        length: Along the tube [in].
        turn: Angle of an arc [deg], upward on paper positive; 0 for a straight piece.
    """

    length: float
    turn: float = 0.0

    @property
    def radius(self) -> float:
        """Radius of an arc's centre line [in]."""
        return self.length / math.radians(abs(self.turn))


class Bend(Struct, frozen=True):
    """
    Where an arc lies on the straight tube.

    Args:
        start: From the walk's start to the arc's start, along the tube [in].
        radius: Of its centre line [in].
        turn: Its angle [deg], upward on paper positive.
    """

    start: float
    radius: float
    turn: float

    @property
    def length(self) -> float:
        """Length of the arc [in]."""
        return self.radius * math.radians(abs(self.turn))


def pieces_between(bends: Sequence[Bend], last: float) -> list[Piece]:
    """
    Straight pieces and arcs of a tube that is `last` inches long, with its bends in the order of the walk.

    >>> pieces_between([Bend(10, 4, 90)], 30)[0]
    Piece(length=10.0, turn=0.0)
    """
    pieces: list[Piece] = []
    reached = 0.0
    for bend in bends:
        pieces += [Piece(bend.start - reached), Piece(bend.length, bend.turn)]
        reached = bend.start + bend.length
    return [*pieces, Piece(last - reached)]


class Station(Struct, frozen=True):
    """A point of the centre line on the drawing, and the direction [deg, upward positive] in which the tube goes on."""

    point: Point
    heading: float

    def beside(self, offset: float) -> Point:
        """The point at `offset` to the right of the walk."""
        along = math.radians(self.heading)
        return self.point[0] + offset * math.sin(along), self.point[1] + offset * math.cos(along)

    def after(self, piece: Piece, scale: float) -> Station:
        """Where the walk stands after one more piece."""
        along = math.radians(self.heading)
        chord, middle = piece.length * scale, along
        if piece.turn:
            half = math.radians(piece.turn) / 2
            chord = 2 * piece.radius * scale * abs(math.sin(half))
            middle = along + half
        x, y = self.point
        return Station((x + chord * math.cos(middle), y - chord * math.sin(middle)), self.heading + piece.turn)


class Run:
    """
    A tube drawn to scale.

    Args:
        start: Where its centre line begins on the drawing.
        heading: Direction there [deg], 0 to the right, upward positive.
        pieces: Straight pieces and arcs, in order.
        scale: Units of the drawing for an inch.
    """

    def __init__(self, start: Point, heading: float, pieces: Sequence[Piece], scale: float) -> None:
        self.scale = scale
        self.pieces = [piece for piece in pieces if piece.length > 0]
        self.stations = [Station(start, heading)]
        for piece in self.pieces:
            self.stations.append(self.stations[-1].after(piece, scale))

    def at(self, length: float) -> Station:
        """The station at a length along the tube [in]; its last one when the tube is shorter."""
        for piece, station in zip(self.pieces, self.stations, strict=False):
            if length <= piece.length:
                part = length / piece.length
                return station.after(Piece(length, piece.turn * part), self.scale) if length > 0 else station
            length -= piece.length
        return self.stations[-1]

    def edge(self, offset: float = 0.0) -> str:
        """Path data of the line at `offset` to the right of the walk; the centre line at 0."""
        return f"M {_pair(self.stations[0].beside(offset))}{self._steps(offset, backward=False)}"

    def outline(self, thickness: float) -> str:
        """Path data of the tube's body, closed."""
        half = thickness / 2
        there = self._steps(-half, backward=False)
        back = self._steps(half, backward=True)
        turn = _pair(self.stations[-1].beside(half))
        return f"M {_pair(self.stations[0].beside(-half))}{there} L {turn}{back} Z"

    def _steps(self, offset: float, *, backward: bool) -> str:
        """Lines and arcs along the walk or against it."""
        order = range(len(self.pieces))
        steps = []
        for index in reversed(order) if backward else order:
            piece, to = self.pieces[index], self.stations[index if backward else index + 1]
            if not piece.turn:
                steps.append(f" L {_pair(to.beside(offset))}")
                continue
            radius = max(0.0, piece.radius * self.scale + offset * math.copysign(1.0, piece.turn))
            sweep = int((piece.turn < 0) != backward)
            steps.append(f" A {units(radius)} {units(radius)} 0 0 {sweep} {_pair(to.beside(offset))}")
        return "".join(steps)


def _pair(point: Point) -> str:
    return f"{units(point[0])} {units(point[1])}"
