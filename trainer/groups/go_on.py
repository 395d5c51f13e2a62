"""From one part of a job to the next: in practice, and from line to line in assigned work."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.accounts.actor import Actor
from trainer.groups.way_on import way_on
from trainer.library.shelf import Library
from trainer.progress.practice import leave_part, next_part
from trainer.records.models import AssignedFamily, AssignedWork

__all__ = ["go_on"]


def go_on(session: Session, library: Library, actor: Actor, problem_public_id: str, now: datetime) -> str:
    """
    The next part of a job, for the next line where the part was assigned, and else for practice.

    Args:
        session: A write session.
        library: The content.
        actor: The learner.
        problem_public_id: A part of a job; where it was answered and is still open, it is closed.
        now: This moment.

    Returns:
        Public id of the next part; of the same part where it has no answer yet.

    Raises:
        NotFoundError: When the learner has no such problem, or it is no part that has another one after it.
    """
    if not leave_part(session, library, actor.person_id, problem_public_id, now):
        return problem_public_id
    line = _line_after(session, library, actor, problem_public_id, now)
    return next_part(session, library, actor.person_id, problem_public_id, assigned_family_id=line, now=now)


def _line_after(session: Session, library: Library, actor: Actor, problem_public_id: str, now: datetime) -> int | None:
    """The line of assigned work for the part after another one; None for practice, or where the work is over."""
    place = way_on(session, library, actor, problem_public_id, now)
    if place is None or place.work.past_due:
        return None
    query = (
        select(AssignedFamily.id)
        .join(AssignedWork, AssignedWork.id == AssignedFamily.assigned_work_id)
        .where(AssignedWork.public_id == place.work.work, AssignedFamily.position == place.position + 1)
    )
    return session.scalar(query)
