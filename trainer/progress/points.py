"""
The points of a proof run: how much each answer says for "gets 90 of 100 right" against "gets 70 of 100 right".

Points are likelihood ratios in units of one typical right answer, so their sum is a sequential test whose error is
bounded however often it is tried: at a true chance of 0.70 the chance of ever reaching L points is at most (7/9)**L.
The sum is never rounded. Pure: nothing here knows a clock or a table.

Source: Wald 1945 (the test), Reckase 1983 (difficulties in it), Ville 1939 (the bound).
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from math import log
from types import MappingProxyType

from msgspec import Struct

from trainer.progress.constants import CURRENT, Constants
from trainer.progress.skill import sigmoid

__all__ = ["LINES", "Line", "Points", "Rule", "rule_for"]

UPPER_LEVEL = 2.5
"""Level [logit] of who gets 90 of 100 right over a skill's pool of problems."""


class Line(StrEnum):
    """How strict "ready" is meant: STRICT where an error can hurt, LIGHT where it costs only material."""

    STRICT = "strict"
    LIGHT = "light"


class Points(Struct, frozen=True):
    """What one answer gives: points when right, points when not (below 0)."""

    right: float
    wrong: float


class _Terms(Struct, frozen=True):
    """
    A line in numbers.

    Args:
        lower: Chance of a right answer that must not pass for ready.
        lower_level: Level [logit] that has this chance over a skill's pool.
        first: Points that decide for ready in the first run; 3 (strict) or 2 (light) more in each later one.
        step: How many more each later run asks.
        again: Points that decide in a run that refreshes, of somebody once found ready.
        stop: Points at which a run ends without ready.
        most: Answers after which it ends.
        usual: Answers that a first run takes of somebody who gets 90 of 100 right, on the average.
        passes: Of 100 people who get so many of 10 right, how many a first run finds ready, and how many any run ever
            does who keep on trying and get no better; by that number of right ones.

    Source of the last two: computed from the rule itself, path by path; `tests/progress/test_points.py`.
    """

    lower: float
    lower_level: float
    first: float
    step: float
    again: float
    stop: float
    most: int
    usual: int
    passes: Mapping[int, tuple[int, int]]


#: The level of 0.60 follows from those of 0.70 and 0.90: a pool whose difficulties spread by 0.54.
LINES: Mapping[Line, _Terms] = MappingProxyType(
    {
        Line.STRICT: _Terms(
            0.70,
            0.937,
            first=15.0,
            step=3.0,
            again=6.0,
            stop=-10.0,
            most=60,
            usual=29,
            passes={7: (2, 3), 9: (90, 100)},
        ),
        Line.LIGHT: _Terms(
            0.60,
            0.447,
            first=9.0,
            step=2.0,
            again=4.0,
            stop=-7.0,
            most=40,
            usual=15,
            passes={6: (2, 4), 7: (14, 31), 9: (95, 100)},
        ),
    }
)
UPPER = 0.90


class Rule(Struct, frozen=True):
    """
    The rule of one run.

    Args:
        line: The line that it is held to.
        ready_at: Points that decide for ready.
    """

    line: Line
    ready_at: float

    @property
    def stop_at(self) -> float:
        """Points at which it ends without ready."""
        return LINES[self.line].stop

    @property
    def most(self) -> int:
        """Answers after which it ends without ready."""
        return LINES[self.line].most

    def points(self, difficulty: float, lucky: float = CURRENT.lucky_typed, constants: Constants = CURRENT) -> Points:
        """
        What an answer to a problem gives.

        Args:
            difficulty: Of its family, as the run began with it [logit].
            lucky: Chance that someone who can't do it gets it right.
            constants: Table to use.

        >>> strict = Rule(Line.STRICT, 15.0)
        >>> [(round(p.right, 2), round(p.wrong, 2)) for p in map(strict.points, (0.0, -1.0, 1.0))]
        [(0.98, -4.54), (0.41, -4.27), (2.02, -3.86)]
        """
        terms = LINES[self.line]
        span = 1 - lucky - constants.slip
        low = lucky + span * sigmoid(terms.lower_level - difficulty)
        high = lucky + span * sigmoid(UPPER_LEVEL - difficulty)
        unit = log(UPPER / terms.lower)
        return Points(log(high / low) / unit, log((1 - high) / (1 - low)) / unit)


def rule_for(line: Line, *, failed: int = 0, refreshes: bool = False) -> Rule:
    """
    The rule of a person's next run.

    Args:
        line: The line that the skill is held to.
        failed: Runs of this person in the skill that ended without ready, or were abandoned, since the last ready one.
        refreshes: Whether the person was found ready before and only has to show it again.

    >>> [rule_for(Line.STRICT, failed=n).ready_at for n in range(3)], rule_for(Line.STRICT, refreshes=True).ready_at
    ([15.0, 18.0, 21.0], 6.0)
    """
    terms = LINES[line]
    start = terms.again if refreshes else terms.first
    return Rule(line, start + failed * terms.step)
