"""
The alarm of a key: first tries that fit a wrong key a thousand times better than the model raise it.

With a wrong key hardly anybody is right (3 of 100, by luck); a good one is missed about as often as the model expects.
The sum of the logarithms of how much better the one explains each answer than the other passes ln 1000 for a good key
with a chance of at most 1 in 1,000, however long one waits (Ville 1939). An alarmed family leaves proof runs at once.
"""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime
from math import log

from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.library.shelf import Library
from trainer.problems.model import VerdictKind
from trainer.records import models

__all__ = ["RAISED_AT", "alarm_after", "alarmed_families", "alarmed_of_skills", "hear"]

RIGHT_BY_LUCK = 0.03
"""Chance of a right answer where the key is wrong."""

RAISED_AT = log(1000)

#: What says nothing of the key: units and reading are another matter than the number.
SILENT = frozenset({VerdictKind.UNIT.value, VerdictKind.ROUNDED.value})


def alarm_after(alarm: float, *, right: bool, expected: float) -> float:
    """
    The sum after one more first try.

    Args:
        alarm: The sum before it.
        right: Whether the answer was right.
        expected: Chance that it would be, by the model, before the answer.

    >>> round(alarm_after(0.0, right=False, expected=0.7), 2), round(alarm_after(0.0, right=True, expected=0.7), 2)
    (1.17, -3.15)
    """
    bad, model = (RIGHT_BY_LUCK, expected) if right else (1 - RIGHT_BY_LUCK, 1 - expected)
    return alarm + log(bad / model)


def hear(row: models.FamilyDifficulty, verdict: str, *, right: bool, expected: float, now: datetime) -> None:
    """
    Take a first try without a hint into a family's sum, and note when that raises the alarm.

    Args:
        row: The family's row, locked.
        verdict: The verdict on record.
        right: Whether the answer was right.
        expected: Chance that it would be, before the answer.
        now: This moment.
    """
    if verdict in SILENT:
        return
    row.alarm = alarm_after(row.alarm, right=right, expected=expected)
    if row.alarm >= RAISED_AT and row.alarmed_at is None:
        row.alarmed_at = now


def alarmed_families(session: Session, library: Library, skill: str) -> Collection[str]:
    """Ids of the skill's families, as they stand on the shelf, whose key is in doubt."""
    return alarmed_of_skills(session, library, [skill])


def alarmed_of_skills(session: Session, library: Library, skills: Collection[str]) -> Collection[str]:
    """The same for several skills, with one query."""
    table = models.FamilyDifficulty
    query = select(table.rules_hash).where(table.skill.in_(skills), table.alarmed_at.is_not(None))
    raised = set(session.scalars(query))
    if not raised:
        return set()
    return {family.id for skill in skills for family in library.families_of(skill) if family.rules_hash in raised}
