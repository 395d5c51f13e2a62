"""What one graded answer changes: the skill state, the family's difficulty, the memory of known mistakes."""

from __future__ import annotations

from datetime import datetime
from functools import cache

from msgspec import Struct
from sqlalchemy import Select, bindparam, select
from sqlalchemy.orm import Session

from trainer.library.shelf import Library
from trainer.problems.bender import ways
from trainer.problems.family import Family
from trainer.progress.alarm import hear
from trainer.progress.difficulties import difficulty_of
from trainer.progress.difficulty import learned, tells
from trainer.progress.effect import Effect, Try, effect_of, lucky_chance
from trainer.progress.lapse import with_lapse
from trainer.progress.sitting import Sitting
from trainer.progress.skill import SkillState, chance, days_since, update
from trainer.progress.states import keep, new_row, standing_state, states_of
from trainer.records import models
from trainer.records.locks import add_if_missing, locked

__all__ = ["Learned", "learn", "learn_difficulty"]

LESSON = "lesson"


class Learned(Struct, frozen=True):
    """
    What an update of the skill used; the answer's row keeps it, so that a replay finds the same bits.

    Args:
        effect: What the answer counted for.
        before: The state before it.
        difficulty: Centred difficulty of the family [logit].
        lucky: Chance of a lucky answer.
        days: Days since the last counted answer; 0 when this one counts for nothing.
        expected: Chance of a right answer, before it.
    """

    effect: Effect
    before: SkillState
    difficulty: float
    lucky: float
    days: float
    expected: float


def learn(session: Session, library: Library, sitting: Sitting, verdict: str, tried: Try, *, now: datetime) -> Learned:
    """
    Move the person's skill by one graded answer.

    Args:
        session: A write session; the person is locked.
        library: The content.
        sitting: The person at the problem.
        verdict: The verdict that goes on record.
        tried: How the answer came about.
        now: Moment of the answer.
    """
    row, rows = sitting.row, states_of(session, sitting.row.person_id)
    state_row = rows.get(row.skill)
    before = standing_state(row.skill, rows)
    effect = effect_of(verdict, tried, in_lesson=row.context == LESSON)
    days = days_since(before.last_at, now) if effect.counts else 0.0
    difficulty = difficulty_of(session, library, sitting.family)
    lucky = lucky_chance(sitting.problem.kind, ways(sitting.problem))
    expected = chance(before, days=days, difficulty=difficulty, lucky=lucky)
    if effect.counts:
        after = update(before, effect, difficulty=difficulty, days=days, lucky=lucky, now=now)
        keep(state_row or _added(session, row), with_lapse(before, after))
    return Learned(effect, before, difficulty, lucky, days, expected)


def _added(session: Session, problem: models.Problem) -> models.SkillState:
    """A row for a skill that has none: its turn was noted under an id that it had before."""
    row = new_row(problem.person_id, problem.skill)
    session.add(row)
    return row


def learn_difficulty(
    session: Session, sitting: Sitting, learnt: Learned, tried: Try, *, verdict: str, now: datetime
) -> None:
    """
    Move the family's difficulty, where the answer tells about it, and hear whether its key is in doubt.

    An answer inside a lesson stands beside the solution and tells nothing.

    The row is locked last in the transaction and for a short time: many people answer the same family.
    """
    honest = tried is Try.FIRST and sitting.row.context != LESSON
    if not honest:
        return
    row = _row_of(session, sitting.family)
    hear(row, verdict, right=learnt.effect.right, expected=learnt.expected, now=now)
    if tells(learnt.before.counted, first_honest_try=honest):
        row.difficulty = learned(row.difficulty, row.counted, right=learnt.effect.right, expected=learnt.expected)
        row.counted += 1


def _row_of(session: Session, family: Family) -> models.FamilyDifficulty:
    """The row of a family, locked; the first answer of all adds it."""
    which = {"rules_hash": family.rules_hash}
    row = session.scalars(_locked_row(), which).one_or_none()
    if row is not None:
        return row
    about = {"family_id": family.id, "skill": family.skill}
    add_if_missing(session, models.FamilyDifficulty, **which, **about, difficulty=0.0, counted=0, alarm=0.0)
    return session.scalars(_locked_row(), which).one()


@cache
def _locked_row() -> Select[models.FamilyDifficulty]:
    """Built once, for each first answer asks."""
    table = models.FamilyDifficulty
    return locked(select(table).where(table.rules_hash == bindparam("rules_hash")))
