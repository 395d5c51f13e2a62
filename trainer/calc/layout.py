"""
The second method: a bend program becomes a tube in space, made of straights and arcs. Inches and degrees.

Nothing here knows what an offset or a saddle is, and no formula of the bend calculations is used: a move is a rotation
and a shift of a frame, one after the other. What comes out can be measured (`layout_measure`) and held against what a
calculation promised (`layout_compare`).

- this module: `Move`, `BendProgram`, `lay_out` and the `Centreline` that it makes
- `layout_space`: vectors, frames and the axes
- `layout_marks`: pencil marks on a shoe -> bend program
- `layout_measure`, `layout_clearance`: what tape and eye find on the bent tube
- `layout_change`: what a slip does; dog-leg
- `layout_path`, `layout_plan`, `layout_room`: from a wanted path back to a program and to marks
- `layout_compare`, `layout_draw`, `layout_proof`: asked against got

The bend program is that of a tube bender: straight feed, roll about the tube, bend, again and again. Tube is taken to
keep its length along the centreline in a bend.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from trainer.calc.layout_space import START, Frame, Vector
from trainer.calc.message import InputError, Message, Quantity

__all__ = ["Bend", "BendProgram", "Centreline", "Leg", "Move", "lay_out"]

#: A straight shorter than nothing by less than this is none: what is left of rounding [in].
_FORGIVEN = 1e-6


@dataclass(frozen=True, slots=True)
class Move:
    """
    One bend, and what leads to it; moves run from the measured end to the far end.

    Args:
        feed: Straight tube from the end of the arc before, or from the tube's end, to the start of this arc [in].
        roll: How far the tube is rolled against the bend before, clockwise as seen looking from the measured end
            along the tube [deg]. 0 goes on in the same plane to the same side, 180 bends back; after 90 this bend goes
            left, seen with the bend before upward.
        angle: Of the bend, above 0, below 180 [deg].
        radius: Of the bend, to the centreline [in]; 0 is a sharp corner.
    """

    feed: float
    roll: float
    angle: float
    radius: float

    @property
    def arc(self) -> float:
        """Tube that the bend takes, along the centreline [in]."""
        return self.radius * math.radians(self.angle)


@dataclass(frozen=True, slots=True)
class BendProgram:
    """
    All bends of one piece of tube.

    Args:
        moves: The bends in their order along the tube.
        tail: Straight tube behind the last arc [in].
    """

    moves: tuple[Move, ...]
    tail: float

    @property
    def length(self) -> float:
        """Developed length: the straight piece of tube that it takes [in]."""
        return sum(move.feed + move.arc for move in self.moves) + self.tail

    @property
    def total_angle(self) -> float:
        """Sum of the bends [deg]."""
        return sum(move.angle for move in self.moves)


@dataclass(frozen=True, slots=True)
class Leg:
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


@dataclass(frozen=True, slots=True)
class Bend:
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


def lay_out(program: BendProgram, start: Frame = START) -> Centreline:
    """
    The tube that a bend program makes.

    Args:
        program: The bends.
        start: Where the measured end lies, the tube's direction there, and the side that is up before the first roll.

    Raises:
        InputError: When an arc would begin before the tube or inside the arc before it, or an angle lies outside
            0 to 180.

    >>> up_and_over = lay_out(BendProgram((Move(20, 0, 90, 4), Move(10, 90, 90, 4)), 5))
    >>> [round(value, 3) for value in (up_and_over.end.x, up_and_over.end.y, up_and_over.end.z)]
    [24.0, 9.0, 18.0]
    """
    frame, station = start, 0.0
    legs: list[Leg] = []
    bends: list[Bend] = []
    for number, move in enumerate(program.moves, start=1):
        feed = _feed(move, number)
        legs.append(Leg(station, frame.at, frame.along, feed))
        frame, station = frame.fed(feed).rolled(move.roll), station + feed
        bends.append(Bend(station, frame.at, frame.along, frame.up, move.angle, move.radius))
        frame, station = frame.bent(move.angle, move.radius), station + move.arc
    legs.append(Leg(station, frame.at, frame.along, _tail(program)))
    return Centreline(tuple(legs), tuple(bends))


def _feed(move: Move, number: int) -> float:
    if not 0 < move.angle < 180:
        raise _refuse(Message("layout.angle", {"bend": number}), Quantity(move.angle, "deg"), "layout.take.angle", "90")
    if move.feed < -_FORGIVEN:
        reason = "layout.arcs-overlap" if number > 1 else "layout.before-end"
        raise _refuse(Message(reason, {"bend": number}), Quantity(move.feed, "in"), "layout.take.straight", "2 in")
    return max(move.feed, 0.0)


def _tail(program: BendProgram) -> float:
    if program.tail < -_FORGIVEN:
        reason = Message("layout.past-end", {"bend": len(program.moves)})
        raise _refuse(reason, Quantity(program.tail, "in"), "layout.take.straight", "2 in")
    return max(program.tail, 0.0)


def _refuse(reason: Message, given: Quantity, accepted: str, example: str) -> InputError:
    written = f"{given.value:.4g} {given.unit}"
    return InputError(reason, given=written, accepted=Message(accepted), example=example)
