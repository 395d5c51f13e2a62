"""
The second method: a bend program becomes a tube in space, made of straights and arcs. Inches and degrees.

Nothing here knows what an offset or a saddle is, and no formula of the bend calculations is used: a move is a rotation
and a shift of a frame, one after the other. What comes out can be measured (`layout_measure`) and held against what a
calculation promised (`layout_compare`).

- this module: `Move`, `BendProgram` and `lay_out`
- `layout_space`, `layout_tube`: vectors, frames and the axes; the `Centreline` of the bent tube
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

from msgspec import Struct

from trainer.calc.layout_space import START, Frame
from trainer.calc.layout_tube import Bend, Centreline, Leg
from trainer.calc.message import InputError, Message, Quantity

__all__ = ["BendProgram", "Move", "lay_out"]

#: A straight shorter than nothing by less than this is none: what is left of rounding [in].
_FORGIVEN = 1e-6


class Move(Struct, frozen=True):
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


class BendProgram(Struct, frozen=True):
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
