"""
What the answers say about a person, skill by skill, in words; and the answers that it rests on.

Numbers are whole tenths, always with how many answers on how many days they come from. Below five answers it is too
early to say, and no number is given.
"""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime

from msgspec import Struct
from sqlalchemy import case, func, select
from sqlalchemy.orm import Session

from trainer.calc.message import Message, Quantity
from trainer.library.shelf import Library
from trainer.problems.shelf import Skill
from trainer.progress.constants import CURRENT
from trainer.progress.habits import active_mistakes_of_people
from trainer.progress.skill import SkillState, chance, days_since, likely_range
from trainer.progress.states import as_state, states_of_people
from trainer.progress.why import tenths
from trainer.records import models

__all__ = ["SkillLine", "skills_of", "skills_of_people", "words_for"]

A_MONTH = 30.0


class SkillLine(Struct, frozen=True):
    """
    One skill of one person's record.

    Args:
        skill: Its id.
        title: Its title.
        unit: The unit of the course that it belongs to.
        counted: Answers that count.
        days: Different days that they were given on: answers at least half a day apart.
        last_at: The last of them; None without one.
        chance: Chance of a right first try today, a fraction of 1; None while it is too early to say.
        low: Lower end of the 90 % range; None as above.
        high: Upper end; None as above.
        in_a_month: The chance in 30 days without practice; None as above.
        words: All of this in a sentence.
        mistakes: Known mistakes that the person makes at present, in words.
    """

    skill: str
    title: str
    unit: str
    counted: int
    days: int
    last_at: datetime | None
    chance: float | None
    low: float | None
    high: float | None
    in_a_month: float | None
    words: Message
    mistakes: tuple[str, ...]


def skills_of(session: Session, library: Library, person_id: int, now: datetime) -> list[SkillLine]:
    """A person's record: every skill that can be practised, in the order of the library, those not begun too."""
    return skills_of_people(session, library, [person_id], now)[person_id]


def skills_of_people(
    session: Session, library: Library, people: Collection[int], now: datetime
) -> dict[int, list[SkillLine]]:
    """The records of several people, with as many queries as for one."""
    rows = states_of_people(session, people)
    days = _days_of_people(session, people)
    mistakes = active_mistakes_of_people(session, people)
    return {
        person: [
            _line(
                skill,
                as_state(rows[person][skill.id]) if skill.id in rows.get(person, {}) else None,
                answered_days=days.get((person, skill.id), 0),
                mistakes=tuple(mistakes.get(person, {}).get(skill.id, {}).values()),
                now=now,
            )
            for skill in library.skills.values()
            if library.asks(skill.id) or skill.id in rows.get(person, {})
        ]
        for person in people
    }


def words_for(title: str, state: SkillState | None, answered_days: int, days: float) -> Message:
    """
    The sentence for someone who runs a shop.

    Args:
        title: Title of the skill.
        state: Where the person stands; None when there was no answer.
        answered_days: Different days with answers.
        days: Days since the last of them.
    """
    if state is None or not state.counted:
        return Message("progress.skill.not-begun", {"skill": title})
    answers = Quantity(state.counted, "answers")
    if state.counted < CURRENT.said_from:
        return Message("progress.skill.early", {"skill": title, "answers": answers})
    low, high = (tenths(end) for end in likely_range(state, days=days))
    params = {
        "skill": title,
        "right": tenths(chance(state, days=days)),
        "low": low,
        "high": high,
        "answers": answers,
        "days": Quantity(answered_days, "days"),
        "later": tenths(chance(state, days=days + A_MONTH)),
    }
    return Message("progress.skill.known" if low < high else "progress.skill.sure", params)


def _line(
    skill: Skill, state: SkillState | None, *, answered_days: int, mistakes: tuple[str, ...], now: datetime
) -> SkillLine:
    counted = state.counted if state else 0
    known = state if counted >= CURRENT.said_from else None
    days = days_since(state.last_at, now) if state else 0.0
    low, high = likely_range(known, days=days) if known else (None, None)
    return SkillLine(
        skill.id,
        skill.title,
        skill.unit,
        counted,
        answered_days if counted else 0,
        state.last_at if state else None,
        chance(known, days=days) if known else None,
        low,
        high,
        chance(known, days=days + A_MONTH) if known else None,
        words_for(skill.title, state, answered_days, days),
        mistakes,
    )


def _days_of_people(session: Session, people: Collection[int]) -> dict[tuple[int, str], int]:
    """Different days with answers by person and skill: the first, and each one at least half a day after the last."""
    later = func.sum(case((models.Answer.days >= CURRENT.another_day, 1), else_=0))
    query = (
        select(models.Answer.person_id, models.Problem.skill, later)
        .join(models.Problem, models.Problem.id == models.Answer.problem_id)
        .where(models.Answer.person_id.in_(people))
        .group_by(models.Answer.person_id, models.Problem.skill)
    )
    return {(person, skill): 1 + int(days) for person, skill, days in session.execute(query)}
