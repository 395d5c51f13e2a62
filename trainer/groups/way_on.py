"""Where a problem of assigned work stands in that work, and which line comes after it."""

from __future__ import annotations

from datetime import datetime

from msgspec import Struct
from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.accounts.access import NotFoundError
from trainer.accounts.actor import Actor
from trainer.groups.learner_work import LearnerWork, learner_work
from trainer.library.shelf import Library
from trainer.records.joins import problems_of_lines
from trainer.records.models import AssignedFamily, AssignedWork, Problem

__all__ = ["WayOn", "next_line", "way_back", "way_on"]


class WayOn(Struct, frozen=True):
    """
    A problem's place in assigned work.

    Args:
        work: The work, as its learner sees it.
        position: The line that the problem is for.
        following: The line to do next; None when every other line has an answer.
    """

    work: LearnerWork
    position: int
    following: int | None


def way_on(session: Session, library: Library, actor: Actor, problem_public_id: str, now: datetime) -> WayOn | None:
    """
    Where one of the learner's problems stands in assigned work.

    Args:
        session: Any session.
        library: The content.
        actor: The learner.
        problem_public_id: The problem.
        now: This moment.

    Returns:
        None when it was not issued for assigned work, when the learner has left the group since, or when the work was
        withdrawn: then there is no way on.
    """
    query = (
        select(AssignedWork.public_id, AssignedFamily.position)
        .join(AssignedFamily, AssignedFamily.assigned_work_id == AssignedWork.id)
        .join(Problem, problems_of_lines())
        .where(Problem.public_id == problem_public_id, Problem.person_id == actor.person_id)
    )
    found = session.execute(query).one_or_none()
    if found is None:
        return None
    work_id, position = found
    return way_back(session, library, actor, work_id, position, now=now)


def way_back(
    session: Session, library: Library, actor: Actor, work_public_id: str, position: int, *, now: datetime
) -> WayOn | None:
    """
    The place of a line in assigned work, for a problem that was opened from there: after the due date it is plain practice
    and is not kept with the line.

    Returns:
        None when there is no such line, or no such work any more for this learner.
    """
    try:
        work = learner_work(session, library, actor, work_public_id, now)
    except NotFoundError:
        return None
    if not any(line.position == position for line in work.lines):
        return None
    return WayOn(work, position, next_line(work, after=position))


def next_line(work: LearnerWork, after: int = 0) -> int | None:
    """
    The line to do next: the first below `after` without an answer that counts, else the first of all.

    Args:
        work: The work.
        after: The line that one comes from, which is never the next itself; 0 for none.
    """
    unanswered = [line.position for line in work.lines if line.best.first is None and line.position != after]
    below = [position for position in unanswered if position > after]
    return min(below or unanswered, default=None)
