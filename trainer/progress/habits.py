"""Known mistakes of people, between their rows and the pure memory."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from datetime import datetime
from functools import cache

from sqlalchemy import Select, bindparam, select
from sqlalchemy.orm import Session

from trainer.progress.called import called
from trainer.progress.mistakes import History, remember
from trainer.records import models

__all__ = ["active_mistakes", "active_mistakes_of_people", "as_history", "keep_history", "note_mistakes"]


def active_mistakes(session: Session, person_id: int) -> dict[str, dict[str, str]]:
    """The known mistakes that a person makes at present: what they are called, by skill and id."""
    return active_mistakes_of_people(session, [person_id]).get(person_id, {})


def active_mistakes_of_people(session: Session, people: Collection[int]) -> dict[int, dict[str, dict[str, str]]]:
    """The same for several people, with one query."""
    found: dict[int, dict[str, dict[str, str]]] = {}
    query = select(models.MistakeHistory).where(
        models.MistakeHistory.person_id.in_(people), models.MistakeHistory.bits > 0
    )
    for row in session.scalars(query.order_by(models.MistakeHistory.mistake_id)):
        if as_history(row).active:
            of_skill = found.setdefault(row.person_id, {}).setdefault(row.skill, {})
            of_skill[row.mistake_id] = called(row.mistake_id)
    return found


def note_mistakes(
    session: Session,
    problem: models.Problem,
    could_show: Iterable[str],
    *,
    shown: Collection[str],
    right: bool,
    at: datetime,
) -> None:
    """
    Note the first try at a problem in the histories of all known mistakes that it could have shown.

    Args:
        session: A write session; the person is locked.
        problem: The problem answered.
        could_show: Ids of the mistakes that these numbers could have shown.
        shown: Those that the answer shows.
        right: Whether it was right.
        at: When.
    """
    which = {"person_id": problem.person_id, "family_id": problem.family_id}
    rows = {row.mistake_id: row for row in session.scalars(_of_family(), which)}
    for mistake in sorted(set(could_show)):
        row = rows.get(mistake) or _new(session, problem, mistake)
        keep_history(row, remember(as_history(row), shown=mistake in shown, right=right, at=at))


@cache
def _of_family() -> Select[models.MistakeHistory]:
    """What a person showed at a family; built once, for each first answer asks."""
    table = models.MistakeHistory
    return select(table).where(table.person_id == bindparam("person_id"), table.family_id == bindparam("family_id"))


def as_history(row: models.MistakeHistory) -> History:
    """What a row holds, as the memory knows it."""
    return History(row.bits, row.seen, row.right_at, row.right_before_at)


def keep_history(row: models.MistakeHistory, history: History) -> None:
    """Write a history into its row."""
    row.bits, row.seen = history.bits, history.seen
    row.right_at, row.right_before_at = history.right_at, history.right_before_at


def _new(session: Session, problem: models.Problem, mistake: str) -> models.MistakeHistory:
    row = models.MistakeHistory(
        person_id=problem.person_id,
        skill=problem.skill,
        family_id=problem.family_id,
        mistake_id=mistake,
        bits=0,
        seen=0,
    )
    session.add(row)
    return row
