"""More time for one person at work that was given: until a later day, with the reason. The latest that was given counts."""

from __future__ import annotations

from datetime import date, datetime
from zoneinfo import ZoneInfo

from msgspec import Struct
from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.accounts.access import NotFoundError, WorkRef, assigned_work_led_by, learner_seen_by
from trainer.accounts.actor import Actor
from trainer.accounts.audit import note
from trainer.accounts.sharing import Shared
from trainer.calc.message import InputError, Message
from trainer.groups.assigned import END_OF_DAY, read_due
from trainer.groups.names import read_line
from trainer.progress.room import more_time_until
from trainer.records.models import AssignedWork, Membership, Person, WorkExtension

__all__ = ["MoreTime", "due_for", "give_more_time", "more_time"]

LONGEST_REASON = 200


class MoreTime(Struct, frozen=True):
    """One learner of the work's group, and until when and why there is more time; None without."""

    person: str
    display_name: str
    ends_at: datetime | None
    reason: str


def give_more_time(
    session: Session,
    actor: Actor,
    work_public_id: str,
    person_public_id: str,
    *,
    ends_on: date,
    reason: str,
    now: datetime,
) -> None:
    """
    Give one learner until the end of a later day. It is noted for the learner to see.

    Args:
        session: A write session.
        actor: Who leads the group.
        work_public_id: The work.
        person_public_id: The learner.
        ends_on: The day, in the organisation's time zone.
        reason: Why, as typed.
        now: This moment.

    Raises:
        NotFoundError: When the work is not his to know of, or the person is no member of its group.
        NotAllowedError: When he does not lead its group.
        InputError: With `field` "reason" or "ends_on".
    """
    work = assigned_work_led_by(session, actor, work_public_id)
    learner = learner_seen_by(session, actor, work.group.public_id, person_public_id, Shared.ASSIGNED)
    if not learner.is_member or work.withdrawn_at is not None:
        raise NotFoundError
    why = read_line(reason, field="reason", example="On the road all week", longest=LONGEST_REASON)
    ends_at = read_due(ends_on, END_OF_DAY, ZoneInfo(work.group.organisation.time_zone), now, field="ends_on")
    if ends_at <= work.due_at:
        raise InputError(
            Message("work.time-not-more"),
            given=ends_on.isoformat(),
            accepted=Message("work.time-accepted"),
            example=date.fromordinal(ends_on.toordinal() + 7).isoformat(),
            field="ends_on",
        )
    session.add(
        WorkExtension(
            assigned_work_id=work.id,
            person_id=learner.person_id,
            ends_at=ends_at,
            reason=why,
            given_by_id=actor.person_id,
            given_at=now,
        )
    )
    what = "work.more-time"
    note(session, what=what, now=now, actor_id=actor.person_id, subject_id=learner.person_id, group_id=work.group.id)


def more_time(session: Session, actor: Actor, work_public_id: str) -> tuple[WorkRef, list[MoreTime]]:
    """
    The members of a work's group by name, each with the time that they were given.

    Raises:
        NotFoundError: When the work is not his to know of.
        NotAllowedError: When he does not lead its group.
    """
    work = assigned_work_led_by(session, actor, work_public_id)
    latest = _latest(session, work.id)
    query = (
        select(Person)
        .join(Membership, Membership.person_id == Person.id)
        .where(Membership.group_id == work.group.id, Membership.role == "learner", Membership.ended_at.is_(None))
        .order_by(Person.display_name, Person.id)
    )
    lines = []
    for person in session.scalars(query):
        given = latest.get(person.id)
        ends_at, why = (given.ends_at, given.reason) if given else (None, "")
        lines.append(MoreTime(person.public_id, person.display_name, ends_at, why))
    return work, lines


def due_for(session: Session, work: WorkRef, person_id: int) -> datetime:
    """When work is due for one person."""
    query = select(more_time_until(AssignedWork.id, person_id)).where(AssignedWork.id == work.id)
    return max(work.due_at, session.scalar(query) or work.due_at)


def _latest(session: Session, work_id: int) -> dict[int, WorkExtension]:
    """What counts for each person: the row that was added last."""
    query = select(WorkExtension).where(WorkExtension.assigned_work_id == work_id).order_by(WorkExtension.id)
    return {one.person_id: one for one in session.scalars(query)}
