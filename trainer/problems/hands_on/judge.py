"""
What a judge saw and measured, held against the sheet.

A check is passed when every measured value keeps its limit, every critical step was done, and of the other steps no more
than one was not: the kind of slip that the next piece mends.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import cast

from msgspec import Struct

from trainer.calc.inputs import Input, Kind
from trainer.calc.length import write_length
from trainer.calc.message import Message
from trainer.calc.step import write_number
from trainer.problems.hands_on.sheet import Measure, Sheet

__all__ = ["FORGIVEN_STEPS", "Judgement", "Reading", "agreement", "judge", "read_measured"]

#: Steps that are not critical and may be missed.
FORGIVEN_STEPS = 1
_INPUT_KINDS = {"in": Kind.LENGTH, "deg": Kind.ANGLE, "straps": Kind.COUNT}
#: Nothing at a bench is longer [in], wider [deg] or more often.
_MOST = {"in": 1200.0, "deg": 180.0, "straps": 200.0}


class Reading(Struct, frozen=True):
    """A measured value: the text as typed, and the number read from it in the measure's unit."""

    typed: str
    value: float


class Judgement(Struct, frozen=True):
    """
    What came of a check.

    Args:
        passed: Whether it is passed.
        out_of_limit: Ids of the measured values that leave their limit.
        not_done: Ids of the steps that were not done.
        critical: Ids of those steps that fail the whole by themselves.
    """

    passed: bool
    out_of_limit: tuple[str, ...]
    not_done: tuple[str, ...]
    critical: tuple[str, ...]

    @property
    def misses(self) -> tuple[str, ...]:
        """Everything that was missed, critical steps first."""
        others = tuple(one for one in self.not_done if one not in self.critical)
        return (*self.critical, *self.out_of_limit, *others)


def read_measured(measure: Measure, typed: str) -> Reading:
    """
    A value as the tape or the level reads.

    Raises:
        InputError: With `field` set to the measure's id, when there is none or it cannot be read.
    """
    given = _input(measure)
    if not typed.strip():
        raise given.refuse(Message("input.missing"), "")
    return Reading(typed.strip()[:40], _number(given, typed))


def judge(sheet: Sheet, measured: Mapping[str, Reading], steps: Mapping[str, bool]) -> Judgement:
    """
    Hold what was seen and measured against the sheet.

    Raises:
        KeyError: When something of the sheet was not judged.
    """
    out = tuple(one.id for one in sheet.measured if not one.holds(measured[one.id].value))
    missed = [one for one in sheet.steps if not steps[one.id]]
    critical = tuple(one.id for one in missed if one.critical)
    passed = not out and not critical and len(missed) <= FORGIVEN_STEPS
    return Judgement(passed, out, tuple(one.id for one in missed), critical)


def agreement(sheet: Sheet, first: Judgement, second: Judgement) -> tuple[int, int]:
    """On how many of the sheet's points two judges say the same, and how many there are."""
    points = [*(one.id for one in sheet.measured), *(one.id for one in sheet.steps)]
    same = [one for one in points if (one in first.misses) == (one in second.misses)]
    return len(same), len(points)


def _input(measure: Measure) -> Input:
    unit = "count" if measure.unit == "straps" else measure.unit
    example = write_length(measure.value) if measure.unit == "in" else write_number(measure.value)
    return Input(measure.id, _INPUT_KINDS[measure.unit], example, unit, least=0, most=_MOST[measure.unit])


def _number(given: Input, typed: str) -> float:
    """A length is read exactly; all three kinds give a number."""
    return float(cast("float", given.read(typed)))
