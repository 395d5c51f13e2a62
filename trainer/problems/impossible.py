"""Answers that nothing on a job can come to: slips of the finger, which count as no try. Inches and degrees."""

from __future__ import annotations

from trainer.calc.message import InputError, Message, Quantity
from trainer.calc.units import convert
from trainer.problems.model import AnswerKind, Problem

__all__ = ["refuse_impossible"]

#: Longer than every run that is asked about, and more bend than every run could have. The same for all questions, so
#: that a refusal tells nothing about the answer to one.
LONGEST = Quantity(24_000, "in")
STEEPEST = Quantity(1_000, "deg")


def refuse_impossible(problem: Problem, value: float, typed: str) -> None:
    """
    Refuse a number that can be no answer to a problem of its kind.

    Args:
        problem: Only its kind and its unit are looked at.
        value: What was typed, in the problem's unit.
        typed: The text as it was typed.

    Raises:
        InputError: For a length of 0 or of more than `LONGEST`, and for an angle of more than `STEEPEST`.
    """
    if problem.kind is AnswerKind.LENGTH:
        accepted, example = Message("length.accepted"), "40-1/2 in"
        if value == 0:
            raise InputError(Message("check.no-length"), given=typed, accepted=accepted, example=example)
        _refuse_beyond(LONGEST, convert(value, problem.unit, LONGEST.unit), typed, accepted, example)
    elif problem.kind is AnswerKind.NUMBER and problem.unit == STEEPEST.unit:
        _refuse_beyond(STEEPEST, value, typed, Message("number.accepted.angle"), "22.5 deg")


def _refuse_beyond(most: Quantity, value: float, typed: str, accepted: Message, example: str) -> None:
    if value > most.value:
        reason = Message("check.beyond-all", {"typed": Quantity(value, most.unit), "most": most})
        raise InputError(reason, given=typed, accepted=accepted, example=example)
