"""
Whether marks can be bent at all: on the stick, with tube for the hook, in their order. Inches and degrees.

What the hook needs it needs at the moment of bending: straight tube beyond the take-up mark, not bent yet and not past
the end. Whatever its reference, the hook sits where the take-up mark of the shoe is.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from trainer.calc.layout import lay_out
from trainer.calc.layout_marks import BendOnStick, bends_on_stick, bent_by_marks
from trainer.calc.length import write_length
from trainer.calc.marks import End, Mark
from trainer.calc.message import InputError, Message, Quantity
from trainer.calc.shoes import HOOK_NEEDS, Shoe

__all__ = ["check_room"]

#: What is left of rounding [in].
_FORGIVEN = 1e-6


def check_room(marks: Sequence[Mark], shoe: Shoe, stick: float, hook_needs: float = HOOK_NEEDS) -> None:
    """
    Refuse marks that can't be bent.

    Args:
        marks: Full instructions.
        shoe: The bender's shoe.
        stick: Length of the straight tube [in].
        hook_needs: Straight tube that this hook needs beyond the take-up mark [in].

    Raises:
        InputError: When an arc would leave the stick or overlap another, or the hook has no room.

    >>> from trainer.calc.marks import Reference
    >>> from trainer.calc.shoes import DEFAULT_SHOE
    >>> check_room([Mark(1, End.MEASURED, Reference.TAKE_UP, End.MEASURED, 90, 0, False, 1)], DEFAULT_SHOE, 40)
    Traceback (most recent call last):
        ...
    trainer.calc.message.InputError: marks: layout.room.end ...
    """
    lay_out(bent_by_marks(marks, shoe, stick))
    done: list[BendOnStick] = []
    for bend in bends_on_stick(marks, shoe, stick):
        _check_hook(bend, done, shoe, stick, hook_needs)
        done.append(bend)


def _check_hook(bend: BendOnStick, done: Sequence[BendOnStick], shoe: Shoe, stick: float, needed: float) -> None:
    """The nearest thing on the hook's side, an end of the tube or a bend, must be far enough."""
    if bend.mark.hook_toward == End.FAR:
        take_up = bend.end + shoe.mark_to_arc
        room, stops = stick - take_up, {other.start - take_up: other for other in done if other.start > bend.start}
    else:
        take_up = bend.start - shoe.mark_to_arc
        room, stops = take_up, {take_up - other.end: other for other in done if other.start < bend.start}
    left = min([room, *stops])
    if left < needed - _FORGIVEN:
        raise _no_room(bend, stops.get(left), left, needed)


def _no_room(bend: BendOnStick, before: BendOnStick | None, left: float, needed: float) -> InputError:
    sizes = {"left": Quantity(max(left, 0.0), "in"), "needed": Quantity(needed, "in")}
    told = Message("layout.room.end", {"bend": bend.mark.order, **sizes})
    if before:
        told = Message("layout.room.bend", {"bend": bend.mark.order, "other": before.mark.order, **sizes})
    more = Quantity(needed - left, "in")
    accepted = Message("layout.take.room", {"more": more})
    given = write_length(bend.mark.position)
    return InputError(told, given=given, accepted=accepted, example=write_length(math.ceil(more.value)), field="marks")
