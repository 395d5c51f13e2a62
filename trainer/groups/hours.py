"""
Hours on the job: entered by the person who worked them, confirmed or sent back by who leads the crew.

The latest decision counts, and every one is noted. Nobody decides on hours of his own.
"""

from __future__ import annotations

from datetime import date, datetime
from zoneinfo import ZoneInfo

from msgspec import Struct
from sqlalchemy import ColumnElement, func, select
from sqlalchemy.orm import Session, aliased

from trainer.accounts.access import GroupRef, NotAllowedError, NotFoundError, group_led_by, group_of_member
from trainer.accounts.actor import Actor
from trainer.accounts.audit import note as note_line
from trainer.calc.message import InputError, Message
from trainer.groups.looks import note_looks
from trainer.groups.names import read_line
from trainer.groups.processes import Process, processes_of
from trainer.groups.quarters import MOST_QUARTERS, read_day, read_quarters
from trainer.records.locks import lock_person, locked
from trainer.records.models import Group, JobHours, Organisation, Person
from trainer.records.types import is_public_id, new_public_id

__all__ = ["CrewHours", "Hours", "crew_hours", "decide", "enter", "own_hours", "take_back"]

LONGEST_NOTE = 200


class Hours(Struct, frozen=True):
    """
    One entry.

    Args:
        public_id: The entry in addresses.
        person_id: Key of who worked them: two people may have the same name.
        person: Name of who worked them.
        group: Name of the crew.
        group_public_id: The crew in addresses.
        day: On which day.
        process: Key of the work process.
        process_title: The process in words, as the list of the organisation calls it now.
        organisation_id: Key of the crew's organisation.
        organisation: Its name.
        quarters: Quarters of an hour.
        note: What was written with it; "" for nothing.
        decision: "confirmed", "sent-back", or "" while it waits.
        decided_by: Name of who decided; "" while it waits.
        decided_at: When.
        reason: Why it was sent back; "" otherwise.
    """

    public_id: str
    person_id: int
    person: str
    group: str
    group_public_id: str
    day: date
    process: str
    process_title: str
    organisation_id: int
    organisation: str
    quarters: int
    note: str
    decision: str
    decided_by: str
    decided_at: datetime | None
    reason: str


class CrewHours(Struct, frozen=True):
    """Hours that were entered in a crew, the newest day first, and the work processes of its shop."""

    group: GroupRef
    entries: tuple[Hours, ...]
    processes: tuple[Process, ...]


def enter(
    session: Session,
    actor: Actor,
    group_public_id: str,
    *,
    day: str,
    process: str,
    hours: str,
    note: str,
    now: datetime,
) -> str:
    """
    Enter hours of one day on one process, as typed.

    Returns:
        Public id of the entry.

    Raises:
        NotFoundError: When the one who enters does not work in this crew.
        InputError: With `field` "day", "work_process", "hours" or "note"; more than 24 hours on a day are refused.
    """
    crew = _crew(group_of_member(session, actor, group_public_id))
    on = read_day(day, now=now, zone=ZoneInfo(crew.organisation.time_zone))
    # Held until these hours are there: a process on which nobody entered any may be removed from the list.
    session.execute(locked(select(Organisation.id).where(Organisation.id == crew.organisation.id)))
    listed = processes_of(session, [crew.organisation.id])[crew.organisation.id]
    open_ones = {one.key: one.title for one in listed if not one.is_closed}
    if process not in open_ones:
        raise InputError(
            Message("hours.process"),
            given=process[:40],
            accepted=Message("hours.process-accepted"),
            example=next(iter(open_ones.values()), ""),
            field="work_process",
        )
    quarters = read_quarters(hours)
    written = (
        read_line(note, field="note", example="Offsets into the panels.", longest=LONGEST_NOTE) if note.strip() else ""
    )
    lock_person(session, actor.person_id)
    if _of_day(session, actor.person_id, on) + quarters > MOST_QUARTERS:
        raise InputError(
            Message("hours.day-full"), given=hours, accepted=Message("hours.accepted"), example="2.5", field="hours"
        )
    row = JobHours(
        public_id=new_public_id(),
        person_id=actor.person_id,
        group_id=crew.id,
        day=on,
        process=process,
        quarters=quarters,
        note=written,
        entered_at=now,
    )
    session.add(row)
    session.flush()
    return row.public_id


def take_back(session: Session, actor: Actor, public_id: str, now: datetime) -> None:
    """
    Take an entry of one's own back, unless it is confirmed.

    Raises:
        NotFoundError: When there is no such entry, or it is taken back already.
        NotAllowedError: When it is confirmed.
    """
    row = _locked(session, public_id, JobHours.person_id == actor.person_id)
    if row.decision == "confirmed":
        raise NotAllowedError(Message("hours.confirmed"))
    row.taken_back_at = now


def decide(
    session: Session,
    actor: Actor,
    group_public_id: str,
    public_id: str,
    *,
    confirm: bool,
    reason: str = "",
    now: datetime,
) -> None:
    """
    Confirm an entry, or send it back with a reason.

    Raises:
        NotFoundError: When there is no such entry in a crew that is his to know of.
        NotAllowedError: When he does not lead it, or worked the hours himself.
        InputError: With `field` "reason", when it is sent back without one.
    """
    crew = group_led_by(session, actor, group_public_id)
    row = _locked(session, public_id, JobHours.group_id == crew.id)
    if row.person_id == actor.person_id:
        raise NotAllowedError(Message("hours.oneself"))
    why = None if confirm else read_line(reason, field="reason", example="That was Thursday.", longest=LONGEST_NOTE)
    row.decision = "confirmed" if confirm else "sent-back"
    row.reason, row.decided_at, row.decided_by_id = why, now, actor.person_id
    note_line(
        session,
        what=f"hours.{row.decision}",
        now=now,
        actor_id=actor.person_id,
        subject_id=row.person_id,
        group_id=crew.id,
        detail={"day": row.day.isoformat(), "quarters": row.quarters},
    )


def own_hours(session: Session, actor: Actor) -> tuple[Hours, ...]:
    """All that one entered oneself, in every crew, and did not take back; the newest day first."""
    return _entries(session, JobHours.person_id == actor.person_id)


def crew_hours(session: Session, actor: Actor, group_public_id: str, now: datetime) -> CrewHours:
    """
    What was entered in a crew, for who leads it. That he looked is noted.

    Raises:
        NotFoundError: When the crew is not his to know of, or it is a class.
        NotAllowedError: When he does not lead it.
    """
    crew = _crew(group_led_by(session, actor, group_public_id))
    people = session.scalars(select(JobHours.person_id).where(JobHours.group_id == crew.id).distinct()).all()
    note_looks(session, actor, crew.id, people, what="looked.hours", now=now)
    listed = processes_of(session, [crew.organisation.id])[crew.organisation.id]
    return CrewHours(crew, _entries(session, JobHours.group_id == crew.id), listed)


def _crew(group: GroupRef) -> GroupRef:
    if group.kind != "crew":
        raise NotFoundError
    return group


def _of_day(session: Session, person_id: int, day: date) -> int:
    query = select(func.coalesce(func.sum(JobHours.quarters), 0)).where(
        JobHours.person_id == person_id, JobHours.day == day, JobHours.taken_back_at.is_(None)
    )
    return int(session.scalars(query).one())


def _locked(session: Session, public_id: str, of_whom: ColumnElement[bool]) -> JobHours:
    if not is_public_id(public_id):
        raise NotFoundError
    query = select(JobHours).where(JobHours.public_id == public_id, JobHours.taken_back_at.is_(None), of_whom)
    row = session.scalar(locked(query))
    if row is None:
        raise NotFoundError
    return row


def _entries(session: Session, which: ColumnElement[bool]) -> tuple[Hours, ...]:
    decider = aliased(Person)
    query = (
        select(JobHours, Person.display_name, Group, Organisation.name, decider.display_name)
        .join(Person, Person.id == JobHours.person_id)
        .join(Group, Group.id == JobHours.group_id)
        .join(Organisation, Organisation.id == Group.organisation_id)
        .outerjoin(decider, decider.id == JobHours.decided_by_id)
        .where(JobHours.taken_back_at.is_(None), which)
        .order_by(JobHours.day.desc(), JobHours.id.desc())
    )
    rows = session.execute(query).all()
    listed = processes_of(session, {group.organisation_id for _, _, group, _, _ in rows})
    titles = {(shop, one.key): one.title for shop, processes in listed.items() for one in processes}
    return tuple(
        Hours(
            row.public_id,
            row.person_id,
            person,
            group.name,
            group.public_id,
            row.day,
            row.process,
            titles.get((group.organisation_id, row.process), row.process),
            group.organisation_id,
            shop,
            row.quarters,
            row.note,
            row.decision or "",
            by or "",
            row.decided_at,
            row.reason or "",
        )
        for row, person, group, shop, by in rows
    )
