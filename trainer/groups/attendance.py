"""Who was there on which day of a class or at a talk of a crew: the list that who leads it ticks."""

from __future__ import annotations

from collections.abc import Collection
from datetime import date, datetime
from zoneinfo import ZoneInfo

from msgspec import Struct
from sqlalchemy import delete, or_, select
from sqlalchemy.orm import Session

from trainer.accounts.access import GroupRef, NotFoundError, group_led_by
from trainer.accounts.actor import Actor
from trainer.accounts.audit import note as note_line
from trainer.groups.names import read_name
from trainer.groups.quarters import read_day, read_quarters
from trainer.records.locks import locked
from trainer.records.models import Attendance, ClassDay, Group, Membership, Person
from trainer.records.types import is_public_id, new_public_id

__all__ = ["AttendancePage", "Attended", "DayLine", "Ticked", "attendance_page", "days_attended", "note_day"]


class Ticked(Struct, frozen=True):
    """A person on the list, and whether he or she was there."""

    person: str
    display_name: str
    there: bool


class DayLine(Struct, frozen=True):
    """One day: its id in addresses, what it was about, its quarters of an hour, and who was there."""

    public_id: str
    day: date
    topic: str
    quarters: int
    people: tuple[Ticked, ...]


class AttendancePage(Struct, frozen=True):
    """A group, who can be ticked on a new day, and its days, the newest first."""

    group: GroupRef
    members: tuple[Ticked, ...]
    days: tuple[DayLine, ...]


class Attended(Struct, frozen=True):
    """A day on which somebody was there."""

    day: date
    topic: str
    quarters: int
    group: str
    noted_by: str


def attendance_page(session: Session, actor: Actor, group_public_id: str) -> AttendancePage:
    """
    The days of a group and who was there, for who leads it.

    Raises:
        NotFoundError: When the group is not his to know of.
        NotAllowedError: When he does not lead it.
    """
    group = group_led_by(session, actor, group_public_id)
    days = session.scalars(
        select(ClassDay).where(ClassDay.group_id == group.id).order_by(ClassDay.day.desc(), ClassDay.id.desc())
    ).all()
    there: dict[int, set[int]] = {day.id: set() for day in days}
    ticks = select(Attendance).join(ClassDay, ClassDay.id == Attendance.class_day_id)
    for tick in session.scalars(ticks.where(ClassDay.group_id == group.id)):
        there[tick.class_day_id].add(tick.person_id)
    people = _people(session, group.id, set().union(*there.values()))
    now_in = _members(session, group.id)
    lines = tuple(
        DayLine(
            day.public_id,
            day.day,
            day.topic,
            day.quarters,
            tuple(
                Ticked(one.public_id, one.display_name, one.id in there[day.id])
                for one in people
                if one.id in now_in | there[day.id]
            ),
        )
        for day in days
    )
    members = tuple(Ticked(one.public_id, one.display_name, there=True) for one in people if one.id in now_in)
    return AttendancePage(group, members, lines)


def note_day(
    session: Session,
    actor: Actor,
    group_public_id: str,
    *,
    day: str,
    topic: str,
    hours: str,
    there: Collection[str],
    now: datetime,
    public_id: str | None = None,
) -> str:
    """
    Note a day and who was there; with `public_id` the list of a day that was noted before is put right.

    Args:
        session: A write session.
        actor: Who notes it; leads the group.
        group_public_id: The group.
        day: As typed.
        topic: What it was about, as typed; 1 to 120 characters.
        hours: How long it took, as typed, in quarter hours.
        there: Public ids of those who were there: members, or people who were ticked before.
        now: This moment.
        public_id: The day that is put right; None for a new one.

    Returns:
        Public id of the day.

    Raises:
        NotFoundError: When the group is not his to know of, or it has no such day.
        NotAllowedError: When he does not lead it.
        InputError: With `field` "day", "topic" or "hours".
    """
    group = group_led_by(session, actor, group_public_id)
    on = read_day(day, now=now, zone=ZoneInfo(group.organisation.time_zone))
    about = read_name(topic, field="topic", example="Offsets and saddles")
    quarters = read_quarters(hours)
    if public_id is None:
        row = ClassDay(public_id=new_public_id(), group_id=group.id, noted_by_id=actor.person_id, noted_at=now)
        session.add(row)
    else:
        row = _day(session, group.id, public_id)
    row.day, row.topic, row.quarters = on, about, quarters
    session.flush()
    _tick(session, actor, row, there, now)
    return row.public_id


def days_attended(session: Session, person_id: int) -> tuple[Attended, ...]:
    """The days on which a person was there, in every group, the newest first."""
    query = (
        select(ClassDay.day, ClassDay.topic, ClassDay.quarters, Group.name, Person.display_name)
        .join(Attendance, Attendance.class_day_id == ClassDay.id)
        .join(Group, Group.id == ClassDay.group_id)
        .join(Person, Person.id == Attendance.noted_by_id)
        .where(Attendance.person_id == person_id)
        .order_by(ClassDay.day.desc(), ClassDay.id.desc())
    )
    return tuple(Attended(*row) for row in session.execute(query))


def _tick(session: Session, actor: Actor, row: ClassDay, there: Collection[str], now: datetime) -> None:
    """Make the ticks of a day these and no others; each change is noted. Nobody ticks himself."""
    before = set(session.scalars(select(Attendance.person_id).where(Attendance.class_day_id == row.id)))
    may = before | _members(session, row.group_id)
    wanted = {
        one.id for one in _people(session, row.group_id, before) if one.public_id in {*there} and one.id in may
    } - {actor.person_id}
    gone = before - wanted
    session.execute(delete(Attendance).where(Attendance.class_day_id == row.id, Attendance.person_id.in_(gone)))
    for person in sorted(wanted - before):
        session.add(Attendance(class_day_id=row.id, person_id=person, noted_by_id=actor.person_id, noted_at=now))
    session.flush()
    changes = [("noted", one) for one in sorted(wanted - before)] + [("removed", one) for one in sorted(gone)]
    for what, person in changes:
        note_line(
            session,
            what=f"attendance.{what}",
            now=now,
            actor_id=actor.person_id,
            subject_id=person,
            group_id=row.group_id,
            detail={"day": row.day.isoformat(), "quarters": row.quarters},
        )


def _day(session: Session, group_id: int, public_id: str) -> ClassDay:
    if not is_public_id(public_id):
        raise NotFoundError
    query = select(ClassDay).where(ClassDay.public_id == public_id, ClassDay.group_id == group_id)
    row = session.scalar(locked(query))
    if row is None:
        raise NotFoundError
    return row


def _members(session: Session, group_id: int) -> set[int]:
    query = select(Membership.person_id).where(
        Membership.group_id == group_id, Membership.role == "learner", Membership.ended_at.is_(None)
    )
    return set(session.scalars(query))


def _people(session: Session, group_id: int, more: Collection[int]) -> list[Person]:
    """Members, and people who were ticked, by name."""
    learners = select(Membership.person_id).where(
        Membership.group_id == group_id, Membership.role == "learner", Membership.ended_at.is_(None)
    )
    query = select(Person).where(or_(Person.id.in_(learners), Person.id.in_(more)))
    return list(session.scalars(query.order_by(Person.display_name, Person.id)))
