"""
A person's due dates behind an address that only who was given it knows.

The address holds a random token, the table its SHA-256, as with sessions: who reads the table cannot fetch a calendar. A
new address ends the one before. What stands in the calendar follows what the person belongs to at each fetch: work that
was taken back, and groups that were left or put away, are gone from the next one.
"""

from __future__ import annotations

import secrets
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from msgspec import Struct
from sqlalchemy import ColumnElement, or_, select, update
from sqlalchemy.orm import Session

from trainer.accounts.actor import Actor, actor_of_person
from trainer.accounts.audit import note
from trainer.accounts.sessions import token_hash
from trainer.progress.room import more_time_until
from trainer.records.locks import lock_person
from trainer.records.models import AssignedWork, CalendarFeed, Group, Organisation, Person

__all__ = ["DueDate", "due_dates", "end_feed", "feed_made_at", "new_feed", "owner_of_feed"]

#: How long a date that is past stays in the calendar.
LOOKS_BACK = timedelta(days=60)


class DueDate(Struct, frozen=True):
    """
    One date of a person's calendar.

    Args:
        work: Public id of the work.
        title: Its title.
        kind: "home", "room" or "paper".
        group: Name of the class or crew.
        due_at: When it is due for this person, in UTC.
        zone: Of the school or shop.
        changed_at: When it was given.
        leads: Whether the person leads the group, rather than learns in it.
    """

    work: str
    title: str
    kind: str
    group: str
    due_at: datetime
    zone: ZoneInfo
    changed_at: datetime
    leads: bool


def feed_made_at(session: Session, actor: Actor) -> datetime | None:
    """When the address in force was made; None where there is none."""
    return session.scalar(select(CalendarFeed.made_at).where(*_in_force(actor.person_id)))


def new_feed(session: Session, actor: Actor, now: datetime) -> str:
    """
    Make an address; the one before it, if there is one, opens nothing any more.

    Returns:
        The token of the address, which is stored nowhere.
    """
    lock_person(session, actor.person_id)
    _end(session, actor.person_id, now)
    token = secrets.token_urlsafe(32)
    session.add(CalendarFeed(person_id=actor.person_id, token_hash=token_hash(token), made_at=now))
    me = actor.person_id
    note(session, what="calendar.opened", now=now, actor_id=me, subject_id=me)
    return token


def end_feed(session: Session, actor: Actor, now: datetime) -> None:
    """Let the address in force open nothing any more. Twice is once."""
    lock_person(session, actor.person_id)
    if _end(session, actor.person_id, now):
        me = actor.person_id
        note(session, what="calendar.closed", now=now, actor_id=me, subject_id=me)


def owner_of_feed(session: Session, token: str) -> Actor | None:
    """Whose calendar a token opens; None for one that opens nothing."""
    query = (
        select(CalendarFeed.person_id)
        .join(Person, Person.id == CalendarFeed.person_id)
        .where(CalendarFeed.token_hash == token_hash(token), CalendarFeed.ended_at.is_(None))
        .where(Person.deleted_at.is_(None))
    )
    found = session.scalar(query)
    return None if found is None else actor_of_person(session, found)


def due_dates(session: Session, actor: Actor, now: datetime) -> list[DueDate]:
    """What is due for a person, and in the classes and crews that the person leads; the soonest first."""
    learns = {one.group_id for one in actor.learns_in}
    leads = {one.group_id for one in actor.leads}
    owns = {one.organisation_id for one in actor.owns}
    query = (
        select(AssignedWork, Group, Organisation.time_zone, more_time_until(AssignedWork.id, actor.person_id))
        .join(Group, Group.id == AssignedWork.group_id)
        .join(Organisation, Organisation.id == Group.organisation_id)
        .where(AssignedWork.withdrawn_at.is_(None), Group.archived_at.is_(None), ~Group.is_sample)
        .where(or_(Group.id.in_(learns | leads), Group.organisation_id.in_(owns)))
        .where(AssignedWork.due_at > now - LOOKS_BACK)
        .order_by(AssignedWork.due_at, AssignedWork.id)
    )
    return [
        _date(work, group, zone, longer if group.id in learns else None, leads=group.id not in learns)
        for work, group, zone, longer in session.execute(query)
    ]


def _date(work: AssignedWork, group: Group, zone: str, longer: datetime | None, *, leads: bool) -> DueDate:
    due_at = max(work.due_at, longer or work.due_at)
    where = ZoneInfo(zone)
    return DueDate(work.public_id, work.title, work.kind, group.name, due_at, where, work.created_at, leads)


def _in_force(person_id: int) -> tuple[ColumnElement[bool], ...]:
    return (CalendarFeed.person_id == person_id, CalendarFeed.ended_at.is_(None))


def _end(session: Session, person_id: int, now: datetime) -> bool:
    ended = session.execute(update(CalendarFeed).where(*_in_force(person_id)).values(ended_at=now))
    return bool(ended.rowcount)  # type: ignore[attr-defined]  # An UPDATE's result counts its rows.
