"""Work given to a group: a list of problem families with counts, pinned to the versions that they have then."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from sqlalchemy import func, insert, select, update
from sqlalchemy.orm import Session

from trainer.accounts.access import assigned_work_led_by, group_led_by
from trainer.accounts.actor import Actor
from trainer.accounts.audit import note
from trainer.calc.message import InputError, Message
from trainer.groups.names import read_name
from trainer.library.shelf import Library
from trainer.library.versions import pin_all
from trainer.problems.family import Family
from trainer.problems.job import Job
from trainer.records.locks import lock_person
from trainer.records.models import AssignedFamily, AssignedWork
from trainer.records.types import new_public_id

__all__ = ["END_OF_DAY", "FamilyCount", "GivenWork", "assign", "withdraw", "work_given_to"]

END_OF_DAY = time(23, 59)
#: A date further off is a slip of the finger.
FURTHEST = timedelta(days=730)
MOST_OF_ONE = 10
MOST_LINES = 60
WHERE = ("home", "room")


@dataclass(frozen=True, slots=True)
class FamilyCount:
    """How many problems of a family are asked, or how many runs of a job, by the job's id."""

    family_id: str
    count: int = 1


@dataclass(frozen=True, slots=True)
class GivenWork:
    """Work as its group's leaders list it; `due_at` in UTC, to be shown in the organisation's zone."""

    work: str
    title: str
    kind: str
    due_at: datetime
    lines: int
    given_at: datetime
    withdrawn: bool


def assign(
    session: Session,
    library: Library,
    actor: Actor,
    group_public_id: str,
    *,
    title: str,
    families: Sequence[FamilyCount],
    due_on: date,
    due_time: time = END_OF_DAY,
    kind: str = "home",
    edition: str,
    form_key: str = "",
    now: datetime,
) -> str:
    """
    Give work to a group.

    Args:
        session: A write session.
        library: The content; what is given follows the local rules of the group's school or shop.
        actor: Who leads the group.
        group_public_id: The group.
        title: As typed.
        families: What is asked, in this order.
        due_on: Day on which it is due, in the organisation's time zone.
        due_time: Time of that day.
        kind: "home", or "room" for work in the room.
        edition: Edition of the rules that it is asked by.
        form_key: Of the form that gives it: the same one again, as of a finger that tapped twice, gives nothing more.
        now: This moment.

    Returns:
        Public id of the work.

    Raises:
        NotFoundError: When the group is not his to know of.
        NotAllowedError: When he does not lead it.
        InputError: With `field` "title", "families", "kind" or "due_on", when it cannot be used.
    """
    group = group_led_by(session, actor, group_public_id)
    if form_key and (given := _given_already(session, actor, form_key)):
        return given
    name = read_name(title, field="title", example="Offsets for Thursday")
    library = library.under(group.organisation.local_rules)
    asked = _read_families(library, families)
    if kind not in WHERE:
        raise _refused("groups.work-kind", kind, "groups.work-kind-accepted", "home", "kind")
    work = AssignedWork(
        public_id=new_public_id(),
        group_id=group.id,
        given_by_id=actor.person_id,
        kind=kind,
        title=name,
        edition=edition,
        due_at=_read_due(due_on, due_time, ZoneInfo(group.organisation.time_zone), now),
        created_at=now,
        form_key=form_key or None,
    )
    session.add(work)
    session.flush()
    versions = pin_all(session, [library.families[family_id] for family_id in dict.fromkeys(asked)], now)
    lines = [
        {"assigned_work_id": work.id, "position": position, "content_version_id": versions[family_id]}
        for position, family_id in enumerate(asked, start=1)
    ]
    session.execute(insert(AssignedFamily), lines)
    note(session, what="work.given", now=now, actor_id=actor.person_id, group_id=group.id)
    return work.public_id


def withdraw(session: Session, actor: Actor, work_public_id: str, now: datetime) -> None:
    """
    Take work back: learners see it no more; what they answered stays on record. A second call changes nothing.

    Raises:
        NotFoundError: When the work is not his to know of.
        NotAllowedError: When he does not lead its group.
    """
    work = assigned_work_led_by(session, actor, work_public_id)
    still_given = update(AssignedWork).where(AssignedWork.id == work.id, AssignedWork.withdrawn_at.is_(None))
    session.execute(still_given.values(withdrawn_at=now))
    note(session, what="work.withdrawn", now=now, actor_id=actor.person_id, group_id=work.group.id)


def work_given_to(session: Session, actor: Actor, group_public_id: str) -> list[GivenWork]:
    """
    All work that was given to a group, the latest due date first, for who leads it.

    Raises:
        NotFoundError: When the group is not his to know of.
        NotAllowedError: When he does not lead it.
    """
    group = group_led_by(session, actor, group_public_id)
    lines = (
        select(func.count())
        .select_from(AssignedFamily)
        .where(AssignedFamily.assigned_work_id == AssignedWork.id)
        .scalar_subquery()
    )
    query = (
        select(AssignedWork, lines)
        .where(AssignedWork.group_id == group.id)
        .order_by(AssignedWork.due_at.desc(), AssignedWork.id.desc())
    )
    return [
        GivenWork(row.public_id, row.title, row.kind, row.due_at, count, row.created_at, row.withdrawn_at is not None)
        for row, count in session.execute(query)
    ]


def _given_already(session: Session, actor: Actor, form_key: str) -> str | None:
    """Public id of the work that this form gave; the person is locked, so that two taps go one after the other."""
    lock_person(session, actor.person_id)
    query = select(AssignedWork.public_id).where(AssignedWork.given_by_id == actor.person_id)
    return session.scalar(query.where(AssignedWork.form_key == form_key))


def _read_families(library: Library, families: Sequence[FamilyCount]) -> list[str]:
    """The family of each line; a job takes as many as it has parts."""
    for asked in families:
        if asked.family_id not in library.givable:
            raise _refused("groups.family", asked.family_id, "groups.family-accepted", "offset-spacing", "families")
        if not 1 <= asked.count <= MOST_OF_ONE:
            raise _refused("groups.count", str(asked.count), "groups.count-accepted", "3", "families")
    lines = [
        part for asked in families for _ in range(asked.count) for part in _parts(library.givable[asked.family_id])
    ]
    if not 1 <= len(lines) <= MOST_LINES:
        raise _refused("groups.lines", str(len(lines)), "groups.lines-accepted", "10", "families")
    return lines


def _parts(given: Family | Job) -> list[str]:
    """A family, or the parts of a job in their order, which take a line each."""
    return [given.id] if isinstance(given, Family) else [part.id for part in given.parts]


def _read_due(due_on: date, due_time: time, zone: ZoneInfo, now: datetime) -> datetime:
    """The due date in UTC."""
    today = now.astimezone(zone).date()
    example = (today + timedelta(days=1)).isoformat()
    if not today <= due_on <= today + FURTHEST:
        reason = "groups.due-past" if due_on < today else "groups.due-far"
        raise _refused(reason, due_on.isoformat(), "groups.due-accepted", example, "due_on")
    due_at = datetime.combine(due_on, due_time, tzinfo=zone).astimezone(UTC)
    if due_at <= now:
        raise _refused("groups.due-past", due_on.isoformat(), "groups.due-accepted", example, "due_on")
    return due_at


def _refused(reason: str, given: str, accepted: str, example: str, field: str) -> InputError:
    limits = {"most": MOST_OF_ONE, "lines": MOST_LINES}
    return InputError(
        Message(reason), given=given[:400], accepted=Message(accepted, limits), example=example, field=field
    )
