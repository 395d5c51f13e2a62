"""
Work in the room while it lasts: each problem takes one answer, and hints, key and steps wait until it is ended.

It ends for all when its leader ends it, at the latest with its day; for whom more time was given, when that is over.
"""

from __future__ import annotations

from datetime import datetime
from functools import cache

from sqlalchemy import ScalarSelect, Select, bindparam, select
from sqlalchemy.orm import InstrumentedAttribute, Session

from trainer.accounts.access import NotAllowedError
from trainer.calc.message import Message
from trainer.records import models

__all__ = ["in_the_room", "more_time_until", "refuse_help_in_the_room"]


def in_the_room(session: Session, problem: models.Problem, now: datetime) -> bool:
    """Whether a problem was issued for work in the room that is under way for its learner."""
    if problem.assigned_family_id is None:
        return False
    found = session.execute(_ends(), {"problem_id": problem.id}).one_or_none()
    return found is not None and now < max(end for end in found if end is not None)


@cache
def _ends() -> Select[datetime, datetime | None]:
    """When the room of a problem's work ends, for all and for its learner; built once, for each answer asks."""
    work, line = models.AssignedWork, models.AssignedFamily
    until = more_time_until(work.id, models.Problem.person_id)
    return (
        select(work.due_at, until)
        .join(line, line.assigned_work_id == work.id)
        .join(models.Problem, models.Problem.assigned_family_id == line.id)
        .where(models.Problem.id == bindparam("problem_id"), work.kind == "room", work.withdrawn_at.is_(None))
    )


def refuse_help_in_the_room(session: Session, problem: models.Problem, now: datetime) -> None:
    """
    No hints and no steps while the work lasts.

    Raises:
        NotAllowedError: When that is so.
    """
    if in_the_room(session, problem, now):
        raise NotAllowedError(Message("work.no-help"))


def more_time_until(
    work_id: InstrumentedAttribute[int], person_id: InstrumentedAttribute[int] | int
) -> ScalarSelect[datetime]:
    """Until when a person has more time at the work of the query around, as a column of it; the latest row counts."""
    table = models.WorkExtension
    return (
        select(table.ends_at)
        .where(table.assigned_work_id == work_id, table.person_id == person_id)
        .order_by(table.id.desc())
        .limit(1)
        .scalar_subquery()
    )
