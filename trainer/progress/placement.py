"""
The next question of a placement run: the one whose answer is expected to tell most. Pure.

Skills of one unit are taken to have half of their doubt in common, so that an answer on one says something about the
others too. What it tells is summed over the skills of the unit and divided by the root of their number: a unit of many
skills is asked about more, and leaves room for the small ones, as the picture at the end speaks of units. The share and
the root are ours; nothing has tested them yet. What the person's own answers have told already is read off the variance
of each skill.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from itertools import groupby
from math import log, sqrt

from msgspec import Struct

from trainer.progress.constants import CURRENT, Constants
from trainer.progress.skill import faded, sharpness
from trainer.progress.standing import FamilyLine, Standing

__all__ = ["Beliefs", "Question", "beliefs_about", "expected_information", "most_telling"]

IN_COMMON = 0.5
"""Share of the doubt at the start that skills of one unit have in common."""

DIGITS = 9
"""Digits to which two questions are compared: what tells alike is decided by the order of the trade."""


class Question(Struct, frozen=True):
    """What to ask next."""

    skill: str
    family_id: str


class Beliefs(Struct, frozen=True):
    """
    What is believed about the skills of one unit, in their order.

    Args:
        levels: The expected levels [logit].
        doubts: Their variances and covariances.
    """

    levels: tuple[float, ...]
    doubts: tuple[tuple[float, ...], ...]

    def told(self, place: int, level: float, noise: float) -> Beliefs:
        """The beliefs after a sign of one skill's level, of this variance."""
        column = [row[place] for row in self.doubts]
        share = [value / (column[place] + noise) for value in column]
        off = level - self.levels[place]
        return Beliefs(
            tuple(own + part * off for own, part in zip(self.levels, share, strict=True)),
            tuple(
                tuple(doubt - part * other for doubt, other in zip(row, column, strict=True))
                for row, part in zip(self.doubts, share, strict=True)
            ),
        )


def most_telling(
    lines: Sequence[Standing],
    families: Mapping[str, Sequence[FamilyLine]],
    asked: Collection[str] = (),
    constants: Constants = CURRENT,
) -> Question | None:
    """
    The question that is expected to tell most; between equals the one that stands first.

    Args:
        lines: The person's skills in the order of the trade; those of one unit follow each other.
        families: What may be asked in each skill.
        asked: Ids of the families that were asked in this run: none comes twice.
        constants: Table to use.

    Returns:
        The question; None when nothing is left to ask.
    """
    best, most = None, 0.0
    for _, group in groupby(lines, key=_unit):
        unit = list(group)
        beliefs = beliefs_about(unit, constants)
        for place, line in enumerate(unit):
            for family in families.get(line.skill, ()):
                if family.id in asked or family.unopened:
                    continue
                told = round(expected_information(beliefs, place, family, constants), DIGITS)
                if told > most:
                    best, most = Question(line.skill, family.id), told
    return best


def beliefs_about(unit: Sequence[Standing], constants: Constants = CURRENT) -> Beliefs:
    """What the answers so far let one believe about the skills of a unit, each helped by those on the others."""
    start, shared = constants.start_variance, constants.start_variance * IN_COMMON
    beliefs = Beliefs(
        (constants.start_level,) * len(unit),
        tuple(tuple(start if row == column else shared for column in range(len(unit))) for row in range(len(unit))),
    )
    for place, line in enumerate(unit):
        level, variance = faded(line.state, line.days, constants)
        precision = 1 / variance - 1 / start
        if line.state.counted and precision > 0:
            sign = (level / variance - constants.start_level / start) / precision
            beliefs = beliefs.told(place, sign, 1 / precision)
    return beliefs


def expected_information(beliefs: Beliefs, place: int, family: FamilyLine, constants: Constants = CURRENT) -> float:
    """
    What one answer is expected to tell about the skills of a unit: the sum over them, by the root of their number [nat].

    Of each skill it is half the logarithm by which its variance shrinks; in this model that is the same whether the
    answer is right or not.

    Args:
        beliefs: What is believed about the unit.
        place: Which of its skills is asked.
        family: What is asked.
        constants: Table to use.
    """
    noise = 1 / (constants.weight * sharpness(beliefs.levels[place], family.difficulty, family.lucky, constants))
    column = [row[place] for row in beliefs.doubts]
    spread = column[place] + noise
    told = (log(1 - shared**2 / (beliefs.doubts[nth][nth] * spread)) for nth, shared in enumerate(column))
    return -0.5 * sum(told) / sqrt(len(column))


def _unit(line: Standing) -> str:
    """The unit of a skill: the part of its id before the dot."""
    return line.skill.partition(".")[0]
