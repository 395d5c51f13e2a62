"""
The problem of a line of assigned work.

A job takes a line for each of its parts, one after the other, and each counts like any other line.
"""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.accounts.access import NotFoundError, assigned_work_to
from trainer.accounts.actor import Actor
from trainer.groups.tries import tries_at
from trainer.library.shelf import Library
from trainer.library.versions import family_at
from trainer.progress.practice import issue, next_part
from trainer.records.models import AssignedFamily, ContentVersion

__all__ = ["open_line"]


def open_line(
    session: Session,
    library: Library,
    actor: Actor,
    work_public_id: str,
    position: int,
    *,
    now: datetime,
    new_numbers: bool = False,
) -> str:
    """
    The problem of a line: the open one, the one answered last, or a new one.

    A later part of a job goes on from the last try at the part before it, and where that is not closed yet, that one is
    opened instead; new numbers begin the job anew.

    Args:
        session: A write session.
        library: The content.
        actor: The learner.
        work_public_id: The work.
        position: The line.
        now: This moment.
        new_numbers: Whether to issue a new one where the last is closed. After the due date that is plain practice.

    Returns:
        Public id of the problem.

    Raises:
        NotFoundError: When no such work was given to the one who asks, or it has no such line.
    """
    work = assigned_work_to(session, actor, work_public_id)
    query = (
        select(AssignedFamily, ContentVersion)
        .join(ContentVersion, ContentVersion.id == AssignedFamily.content_version_id)
        .where(AssignedFamily.assigned_work_id == work.id, AssignedFamily.position == position)
    )
    found = session.execute(query).one_or_none()
    if found is None:
        raise NotFoundError
    line, version = found
    every = tries_at(session, [work.id], actor.person_id)
    place = family_at(library, version).job
    if place is not None and not place.first:
        if new_numbers:
            first = position - place.at
            return open_line(session, library, actor, work_public_id, first, now=now, new_numbers=True)
        before = [one for one in every if one.position == position - 1]
        if not before or before[-1].open:
            return open_line(session, library, actor, work_public_id, position - 1, now=now)
        counted = line.id if now <= work.due_at else None
        return next_part(session, library, actor.person_id, before[-1].problem, assigned_family_id=counted, now=now)
    tries = [one for one in every if one.position == position]
    if tries and (tries[-1].open or not new_numbers):
        return tries[-1].problem
    if now > work.due_at:
        return issue(session, library, actor.person_id, family_id=version.content_id, now=now, edition=work.edition)
    return issue(
        session,
        library,
        actor.person_id,
        context="assigned",
        assigned_family_id=line.id,
        now=now,
        edition=work.edition,
    )
