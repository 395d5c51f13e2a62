"""
Setting the bender on a marked tube: which settings give the bend that is wanted. Inches and degrees.

A setting is a choice of pencil mark, of the bender's reference on it, of the hook's direction and of the roll before. Each
is judged by the bend that it makes, never by itself: the arc has to lie where the wanted one lies and to lean to the same
side. So two settings can both be right, as a stub's take-up mark at the height less the take-up, and the back-of-bend mark
at the full height with the hook the other way.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from enum import StrEnum
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from trainer.calc.layout_compare import NINETY, stick_for
from trainer.calc.layout_marks import BendOnStick, bends_on_stick, half_turns
from trainer.calc.layout_room import check_room
from trainer.calc.marks import Datum, End, Mark, Reference
from trainer.calc.message import InputError
from trainer.calc.shoes import DEFAULT_SHOE, DEFAULT_SHOES, Shoe

__all__ = ["Fit", "Roll", "Setting", "SettingJob", "setting_job"]

#: Arcs that lie as near as this are the same bend: a tape is read no finer [in].
_SAME = 1 / 16
#: Arcs that lie farther apart than this are told apart by anybody [in].
_APART = 1 / 4
#: Sides that differ by less are the same [deg].
_SAME_SIDE = 1.0


class Roll(StrEnum):
    """What is done with the tube before a bend, seen from the measured end; it stays on the floor in between."""

    AS_IT_LIES = "as-it-lies"
    OVER = "over"
    CLOCKWISE = "clockwise"
    COUNTERCLOCKWISE = "counterclockwise"

    @property
    def degrees(self) -> float:
        """How far the tube is rolled, clockwise above 0 [deg]."""
        return {Roll.AS_IT_LIES: 0.0, Roll.OVER: 180.0, Roll.CLOCKWISE: 90.0, Roll.COUNTERCLOCKWISE: -90.0}[self]


class Fit(StrEnum):
    """What a setting gives: the wanted bend, another one, or one that is too near the wanted one to be told apart."""

    RIGHT = "right"
    WRONG = "wrong"
    UNCLEAR = "unclear"


class Setting(Struct, frozen=True):
    """
    The bender on the tube; what is left out is as the wanted bend has it.

    Args:
        position: Of the pencil mark, from where the marks of the job are measured [in].
        reference: The bender's reference that goes on it.
        hook: End that the hook points at.
        roll: What is done with the tube before.
    """

    position: float | None = None
    reference: Reference | None = None
    hook: End | None = None
    roll: Roll | None = None


class SettingJob(Struct, frozen=True):
    """
    A tube on which one bend is to be made next.

    Args:
        done: Bends that are made already, in the order of bending.
        wanted: The bends of which one comes next, with where each has to lie.
        shoe: The bender's shoe.
        stick: A straight tube that is long enough [in].
    """

    done: tuple[Mark, ...]
    wanted: tuple[BendOnStick, ...]
    shoe: Shoe
    stick: float

    @property
    def measured_from(self) -> End | Datum:
        """Where the tape starts."""
        return self.wanted[0].mark.measured_from

    def mark(self, setting: Setting, want: BendOnStick | None = None) -> Mark:
        """The instruction that a setting comes to, for the first wanted bend or the one that is named."""
        bend = want or self.wanted[0]
        like = bend.mark
        roll = like.roll if setting.roll is None else setting.roll.degrees
        if setting.roll is None and self.done:
            roll = half_turns(bend.facing - self._facing)
        hook = setting.hook or like.hook_toward
        return replace(
            like,
            position=like.position if setting.position is None else setting.position,
            reference=setting.reference or like.reference,
            hook_toward=hook,
            roll=roll,
            end_for_end=bool(self.done) and hook != self.done[-1].hook_toward,
            order=len(self.done) + 1,
        )

    def lies(self, mark: Mark) -> BendOnStick:
        """Where the bend of an instruction comes to lie, made next."""
        return bends_on_stick((*self.done, mark), self.shoe, self.stick)[-1]

    def fit(self, setting: Setting) -> Fit:
        """Whether a setting gives one of the wanted bends, with room for hook and arc."""
        fits = {self._fit(setting, want) for want in self.wanted}
        return next((one for one in (Fit.RIGHT, Fit.UNCLEAR) if one in fits), Fit.WRONG)

    def made(self, setting: Setting) -> Mark:
        """The instruction that a setting comes to, for the wanted bend that it gives, or the one that it gives nearly."""
        return self.mark(setting, min(self.wanted, key=lambda want: self._miss(self.mark(setting, want), want)))

    @property
    def lying(self) -> tuple[BendOnStick, ...]:
        """Where the bends lie that are made already."""
        return bends_on_stick(self.done, self.shoe, self.stick)

    @property
    def _facing(self) -> float:
        return sum(mark.roll for mark in self.done)

    def _miss(self, mark: Mark, want: BendOnStick) -> float:
        """How far from the wanted arc the made one lies; a bend to another side is no nearer for lying there [in]."""
        return abs(self.lies(mark).start - want.start) + (0.0 if self._same_side(mark, want) else self.stick)

    def _same_side(self, mark: Mark, want: BendOnStick) -> bool:
        """Whether the bend leans to the wanted side."""
        return abs(half_turns(self._facing + mark.roll - want.facing)) < _SAME_SIDE

    def _fit(self, setting: Setting, want: BendOnStick) -> Fit:
        mark = self.mark(setting, want)
        if not self._same_side(mark, want):
            return Fit.WRONG
        miss = self._miss(mark, want)
        if miss > _APART:
            return Fit.WRONG
        return Fit.RIGHT if miss <= _SAME and self._has_room(mark) else Fit.UNCLEAR

    def _has_room(self, mark: Mark) -> bool:
        try:
            check_room((*self.done, mark), self.shoe, self.stick)
        except InputError:
            return False
        return True


def setting_job(values: Mapping[str, Any], marks: Sequence[Mark], bend: int, *, any_left: bool = False) -> SettingJob:
    """
    The job at one of the marks of a calculation.

    Args:
        values: Inputs of the calculation, for its shoe.
        marks: Its marks; where the first of them is no first bend, a 90 is there before.
        bend: Which bend comes next, in the order of bending; one of the marks has to be it.
        any_left: Whether any bend still to be made may come next, as where the order does not matter.

    Raises:
        InputError: When the marks can't be bent.

    >>> from trainer.calc.stub_up import stub_up
    >>> job = setting_job({"trade_size": "1/2"}, stub_up(14, "1/2").marks, 1)
    >>> job.fit(Setting(9.0, Reference.TAKE_UP, End.MEASURED)), job.fit(Setting(14.0, Reference.BACK_OF_BEND, End.FAR))
    (<Fit.RIGHT: 'right'>, <Fit.RIGHT: 'right'>)
    """
    every = (NINETY, *marks) if marks[0].order > 1 else tuple(marks)
    shoe, stick = shoe_of(values), stick_for(every)
    lying = bends_on_stick(every, shoe, stick)
    wanted = tuple(one for one in lying if one.mark.order == bend or (any_left and one.mark.order > bend))
    return SettingJob(tuple(mark for mark in every if mark.order < bend), wanted, shoe, stick)


def shoe_of(values: Mapping[str, Any]) -> Shoe:
    """The shoe that a calculation's inputs name: itself, by its trade size, or by a take-up of its own."""
    shoe = values.get("shoe") or DEFAULT_SHOES[values.get("trade_size") or DEFAULT_SHOE.trade_size]
    return replace(shoe, take_up=values.get("take_up") or shoe.take_up)
