"""What a graded answer counts for in the skill model: the table of verdicts."""

from __future__ import annotations

from enum import StrEnum
from math import factorial

from msgspec import Struct

from trainer.problems.model import ONE, SEVERAL, AnswerKind, VerdictKind
from trainer.progress.constants import CURRENT, Constants

__all__ = [
    "CREDITED",
    "GAVE_UP",
    "NOTHING",
    "NOT_COUNTED",
    "TELLS_NOTHING",
    "Effect",
    "Try",
    "effect_of",
    "lucky_chance",
    "tried_at",
]

GAVE_UP = "gave-up"
"""The verdict on record when someone gave up or asked for the steps; every other one is a VerdictKind."""

CREDITED = "credited"
"""The verdict where the key was found wrong and every answer has the point."""

NOT_COUNTED = "not-counted"
"""The verdict where the key was found wrong and the question counts nowhere."""

TELLS_NOTHING = frozenset({CREDITED, NOT_COUNTED})
"""Verdicts that say nothing of what the person can do."""

HALF = frozenset({VerdictKind.UNIT.value, VerdictKind.ROUNDED.value, GAVE_UP})


class Try(StrEnum):
    """How an answer came about, as far as it matters here."""

    FIRST = "first"
    HINTED = "hinted"
    LATER = "later"


class Effect(Struct, frozen=True):
    """
    What an answer does to the skill state.

    Args:
        right: Whether it was right.
        weight: What it is worth as evidence, 0 to 1.
        gain: Share of the learning step that goes with it, 0 to 1.
    """

    right: bool
    weight: float
    gain: float

    @property
    def counts(self) -> bool:
        """Whether the answer moves the state at all."""
        return self.weight > 0 or self.gain > 0


NOTHING = Effect(right=False, weight=0.0, gain=0.0)
"""The effect of a wrong answer at a second try, which the first has told already, and where the key was wrong."""


def effect_of(verdict: str, tried: Try, *, in_lesson: bool = False, constants: Constants = CURRENT) -> Effect:
    """
    What an answer with this verdict counts for.

    Args:
        verdict: A VerdictKind other than "unreadable", GAVE_UP, or one of TELLS_NOTHING.
        tried: First try, first try after a hint, or a later try (the steps seen counts as one).
        in_lesson: Whether the problem stood in a lesson, right beside the explanation.
        constants: Table to use.

    >>> effect_of("right", Try.FIRST)
    Effect(right=True, weight=0.7, gain=1.0)
    >>> effect_of("right", Try.LATER)
    Effect(right=True, weight=0.0, gain=0.5)
    >>> effect_of("wrong-unit", Try.FIRST)
    Effect(right=False, weight=0.35, gain=1.0)
    """
    if verdict in TELLS_NOTHING:
        return NOTHING
    right = verdict == VerdictKind.RIGHT
    if tried is Try.LATER:
        return Effect(right=True, weight=0.0, gain=constants.gain_second) if right else NOTHING
    weight = constants.weight_hint if right and tried is Try.HINTED else constants.weight
    if verdict in HALF:
        weight *= constants.weight_half
    return Effect(right, min(weight, constants.weight_lesson) if in_lesson else weight, gain=1.0)


def tried_at(attempt: int, *, hints: int, steps: bool) -> Try:
    """
    How an answer came about.

    Args:
        attempt: Which try at the problem, from 1.
        hints: Hints seen before it.
        steps: Whether the worked steps were seen before it.
    """
    if attempt > 1 or steps:
        return Try.LATER
    return Try.HINTED if hints else Try.FIRST


def lucky_chance(kind: AnswerKind, options: int, constants: Constants = CURRENT) -> float:
    """
    Chance that someone who can't do it answers right: one of k options (or combinations), any set, or any order of them.

    >>> lucky_chance(AnswerKind.CHOICE, 4), lucky_chance(AnswerKind.CHOICES, 4), lucky_chance(AnswerKind.LENGTH, 0)
    (0.25, 0.0625, 0.02)
    """
    if kind in {*ONE, AnswerKind.BENDER}:
        return 1 / options
    if kind is AnswerKind.ORDER:
        return 1 / factorial(options)
    if kind in SEVERAL:
        return float(0.5**options)
    return constants.lucky_typed
