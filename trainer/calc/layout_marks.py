"""
From pencil marks on a shoe to a bend program: where each arc comes to lie when the tube is bent by its own marks.

Where the arc lies. The tube is straight as far as the hook; the arc begins at the shoe's end next to the hook and runs
away from the hook. From the pencil mark, that beginning lies

- take-up mark: `shoe.mark_to_arc` away from the hook, whatever the angle;
- back-of-bend mark: a fixed point of the shoe, so placed that the back of a finished 90 stands at the pencil mark,
  unless the shop has measured where it is;
- saddle-centre mark: half an arc toward the hook, so that the middle of the arc is on the pencil mark.

Which way it goes. The shoe lies on the up side of the tube, and both legs come to lean toward that side. The leg in the
hook is the one that rises from the floor, the other stays down; the bent shape is the same either way. So the hook's
direction decides where the arc lies, and never to which side the tube bends.

Roll. The tube is rolled clockwise, as seen looking from the measured end along the tube, and the shoe stays. Rolls add
up in the order of bending; they are counted on the tube itself, as a chalk line snapped on the straight stick shows
them, so a bend that was made in between changes nothing. Rolled by 180 the next bend goes the other way; by 90 it goes
left, as seen along the tube with the bend before upward.

Where a mark stands. Its tape hooks on an end of the straight stick, or at the back of the bend that was made first: then
the tube as bent so far is measured, along the leg behind that bend.

End for end. The tube is swung around flat on the floor: the side that was up stays up, and nothing but the hook's
direction against the tube's ends changes, which each mark says itself. A roll is seen from the tube's measured end,
wherever that now lies.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from msgspec import Struct

from trainer.calc.layout import BendProgram, Move, lay_out
from trainer.calc.layout_measure import station_from_back
from trainer.calc.length import write_length
from trainer.calc.marks import Datum, End, Mark, Reference
from trainer.calc.message import InputError, Message
from trainer.calc.shoes import Shoe

__all__ = ["BendOnStick", "bends_on_stick", "bent_by_marks", "half_turns", "mark_to_arc"]


class BendOnStick(Struct, frozen=True):
    """
    Where one bend lies along the straight stick; all distances from the measured end [in].

    Args:
        mark: The instruction.
        pencil: The pencil mark.
        start: The end of the arc that is nearer to the measured end.
        end: The other end of the arc.
        facing: How far the tube has been rolled since before the first bend [deg].
    """

    mark: Mark
    pencil: float
    start: float
    end: float
    facing: float


def bent_by_marks(marks: Sequence[Mark], shoe: Shoe, stick: float) -> BendProgram:
    """
    The bends that these marks make, in their order along the tube.

    Args:
        marks: Full instructions, in any sequence; `order` says which is bent first.
        shoe: The bender's shoe.
        stick: Length of the straight tube [in].

    Returns:
        The program, as long as the stick. Arcs that would overlap give a feed below zero, which `lay_out` refuses.

    >>> from trainer.calc.shoes import DEFAULT_SHOE
    >>> stub = Mark(5.0, End.MEASURED, Reference.TAKE_UP, End.MEASURED, 90.0, 0.0, False, 1)
    >>> round(bent_by_marks([stub], DEFAULT_SHOE, 40.0).moves[0].feed, 3)
    5.147
    """
    return _program(bends_on_stick(marks, shoe, stick), shoe, stick)


def bends_on_stick(marks: Sequence[Mark], shoe: Shoe, stick: float) -> tuple[BendOnStick, ...]:
    """
    Where each bend lies on the straight stick, in the order of bending.

    Raises:
        InputError: When a mark is measured from the back of the first bend before there is one, or the arcs made so
            far overlap.
    """
    facing = 0.0
    bends: list[BendOnStick] = []
    for mark in sorted(marks, key=lambda mark: mark.order):
        facing += mark.roll
        bends.append(_on_stick(mark, _pencil(mark, bends, shoe, stick), shoe, facing))
    return tuple(bends)


def mark_to_arc(reference: Reference, angle: float, shoe: Shoe) -> float:
    """
    From the pencil mark to the beginning of the arc next to the hook, away from the hook [in]; below 0 toward it.

    >>> from trainer.calc.shoes import DEFAULT_SHOE
    >>> [round(mark_to_arc(reference, 45, DEFAULT_SHOE), 3) for reference in Reference]
    [0.147, -2.216, -1.767]
    """
    if reference == Reference.TAKE_UP:
        return shoe.mark_to_arc
    if reference == Reference.BACK_OF_BEND:
        straight_to_back = shoe.radius + shoe.outside_diameter / 2
        own = shoe.own_back_mark
        return straight_to_back - _arc(shoe, 90) if own is None else shoe.mark_to_arc - own
    return -_arc(shoe, angle) / 2


def half_turns(angle: float) -> float:
    """
    The same roll as an angle above -180, at most 180 [deg].

    >>> half_turns(270), half_turns(-180), half_turns(540)
    (-90.0, 180.0, 180.0)
    """
    least = math.remainder(angle, 360)
    return least + (360 if least <= -180 + 1e-9 else 0)


def _program(bends: Sequence[BendOnStick], shoe: Shoe, stick: float) -> BendProgram:
    moves: list[Move] = []
    station = facing = 0.0
    for bend in sorted(bends, key=lambda bend: bend.start):
        roll = half_turns(bend.facing - facing)
        moves.append(Move(bend.start - station, roll, bend.mark.angle, shoe.radius))
        station, facing = bend.end, bend.facing
    return BendProgram(tuple(moves), stick - station)


def _pencil(mark: Mark, done: Sequence[BendOnStick], shoe: Shoe, stick: float) -> float:
    """Where the pencil mark lies on the straight stick, from the measured end [in]."""
    if mark.measured_from == End.FAR:
        return stick - mark.position
    if mark.measured_from == Datum.BACK:
        if not done:
            raise _no_back(mark)
        tube = lay_out(_program(done, shoe, stick))
        leg = sum(bend.start <= done[0].start for bend in done)
        return station_from_back(tube, leg, mark.position, shoe.outside_diameter)
    return mark.position


def _no_back(mark: Mark) -> InputError:
    given, accepted = write_length(mark.position), Message("layout.take.back")
    return InputError(Message("layout.no-back"), given=given, accepted=accepted, example="40 in", field="marks")


def _on_stick(mark: Mark, pencil: float, shoe: Shoe, facing: float) -> BendOnStick:
    away = -1 if mark.hook_toward == End.FAR else 1
    beside_hook = pencil + away * mark_to_arc(mark.reference, mark.angle, shoe)
    other = beside_hook + away * _arc(shoe, mark.angle)
    return BendOnStick(mark, pencil, min(beside_hook, other), max(beside_hook, other), facing)


def _arc(shoe: Shoe, angle: float) -> float:
    return shoe.radius * math.radians(angle)
