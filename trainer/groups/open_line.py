"""
The problem of a line of assigned work.

A job takes a line for each of its parts, one after the other, and each counts like any other line. Whichever telephone
asks, a line that was begun goes on where it was.
"""

from __future__ import annotations

from datetime import datetime
from functools import partial

from msgspec import Struct
from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.accounts.access import NotAllowedError, NotFoundError, WorkRef, assigned_work_to
from trainer.accounts.actor import Actor
from trainer.calc.message import Message
from trainer.groups.lines import shared_numbers
from trainer.groups.more_time import due_for
from trainer.groups.tries import Tried, tries_at
from trainer.library.shelf import Library
from trainer.library.versions import family_at
from trainer.progress.practice import issue, next_part
from trainer.records.locks import lock_person
from trainer.records.models import AssignedFamily, ContentVersion

__all__ = ["open_line"]


class Opening(Struct, frozen=True):
    """Work that is opened by one learner: what was tried so far, and until when it counts for this learner."""

    session: Session
    library: Library
    actor: Actor
    work: WorkRef
    tries: list[Tried]
    due_at: datetime
    now: datetime

    @property
    def counts(self) -> bool:
        """Whether what is issued now is for the work, and not for practice."""
        return self.now <= self.due_at

    def tries_of(self, position: int) -> list[Tried]:
        """What was tried at one line."""
        return [one for one in self.tries if one.position == position]


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
        new_numbers: Whether to issue a new one where the last is closed. In the room and on paper there is one problem
            for each line. After the due date that is plain practice.

    Returns:
        Public id of the problem.

    Raises:
        NotFoundError: When no such work was given to the one who asks, or it has no such line.
        NotAllowedError: When the work is on paper and has no sheet yet, or in the room and is not open yet.
    """
    work = assigned_work_to(session, actor, work_public_id)
    lock_person(session, actor.person_id)
    due_at, tries = due_for(session, work, actor.person_id), tries_at(session, [work.id], actor.person_id)
    opening = Opening(session, library, actor, work, tries, due_at, now)
    _refuse_closed(opening)
    return _open(opening, position, new_numbers=new_numbers and (work.kind == "home" or not opening.counts))


def _refuse_closed(opening: Opening) -> None:
    """Paper is opened by who has a sheet, whose problems are issued, and the room when its leader opens it."""
    work = opening.work
    if work.kind == "paper" and not opening.tries and opening.counts:
        raise NotAllowedError(Message("work.on-paper", {"title": work.title}))
    if work.kind == "room" and work.opened_at is None and opening.counts:
        raise NotAllowedError(Message("work.not-open-yet", {"title": work.title}))


def _open(opening: Opening, position: int, *, new_numbers: bool) -> str:
    session, work = opening.session, opening.work
    query = (
        select(AssignedFamily, ContentVersion)
        .join(ContentVersion, ContentVersion.id == AssignedFamily.content_version_id)
        .where(AssignedFamily.assigned_work_id == work.id, AssignedFamily.position == position)
    )
    found = session.execute(query).one_or_none()
    if found is None:
        raise NotFoundError
    line, version = found
    place = family_at(opening.library, version).job
    if place is not None and not place.first:
        if new_numbers:
            return _open(opening, position - place.at, new_numbers=True)
        return _next_part(opening, position, line.id)
    tries = opening.tries_of(position)
    if tries and (tries[-1].open or not new_numbers):
        return tries[-1].problem
    return _issue(opening, line, version.content_id)


def _next_part(opening: Opening, position: int, line_id: int) -> str:
    """The part of a job after the last try at the part before it."""
    before = opening.tries_of(position - 1)
    if not before or before[-1].open:
        return _open(opening, position - 1, new_numbers=False)
    person_id, counted = opening.actor.person_id, line_id if opening.counts else None
    problem = before[-1].problem
    return next_part(opening.session, opening.library, person_id, problem, assigned_family_id=counted, now=opening.now)


def _issue(opening: Opening, line: AssignedFamily, family_id: str) -> str:
    """A new problem: for the line as long as that counts, then for practice."""
    work = opening.work
    give = partial(
        issue, opening.session, opening.library, opening.actor.person_id, now=opening.now, edition=work.edition
    )
    if not opening.counts:
        return give(family_id=family_id)
    nth = len(opening.tries_of(line.position)) + 1
    seed = None if work.shared_seed is None else shared_numbers(work.shared_seed, line.position, nth)
    return give(context="assigned", assigned_family_id=line.id, seed=seed)
