"""
Work given to a group: a list of problem families with counts, pinned to the versions that they have then.

It is one of three kinds, whose rules are the same everywhere:

    home    until the due date, as often as wanted; of each line the best first answer without a hint counts
    room    together: one answer to each line, from when the leader opens it until he ends it; help comes after that
    paper   on printed sheets
"""

from __future__ import annotations

import secrets
from collections.abc import Sequence
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from msgspec import Struct
from sqlalchemy import func, insert, select, update
from sqlalchemy.orm import Session

from trainer.accounts.access import NotAllowedError, assigned_work_led_by, group_led_by
from trainer.accounts.actor import Actor
from trainer.accounts.audit import note
from trainer.calc.message import InputError, Message
from trainer.groups.names import read_name
from trainer.groups.questions import FamilyCount, check_counts, lines_for
from trainer.library.shelf import Library
from trainer.library.versions import pin_all
from trainer.records.locks import lock_person
from trainer.records.models import AssignedFamily, AssignedWork
from trainer.records.types import new_public_id

__all__ = ["END_OF_DAY", "KINDS", "FamilyCount", "GivenWork", "assign", "read_due", "withdraw", "work_given_to"]

END_OF_DAY = time(23, 59)
KINDS = ("room", "home", "paper")
#: A date further off is a slip of the finger.
FURTHEST = timedelta(days=730)
LARGEST_SEED = 10**18


class GivenWork(Struct, frozen=True):
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
    same_numbers: bool = False,
    problem_set_id: int | None = None,
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
        due_on: Day on which it is due, in the organisation's time zone; of work in the room its day.
        due_time: Time of that day.
        kind: One of `KINDS`.
        same_numbers: Whether all get the same numbers; else each learner gets other ones.
        problem_set_id: The set that the questions were taken from.
        edition: Edition of the rules that it is asked by.
        form_key: Of the form that gives it: the same one again, as of a finger that tapped twice, gives nothing more.
        now: This moment.

    Returns:
        Public id of the work.

    Raises:
        NotFoundError: When the group is not his to know of.
        NotAllowedError: When he does not lead it, or it is put away.
        InputError: With `field` "title", "families", "kind" or "due_on", when it cannot be used.
    """
    group = group_led_by(session, actor, group_public_id)
    if form_key and (before := _given_by(session, actor, form_key)):
        return before
    if group.archived_at is not None:
        raise NotAllowedError(Message("groups.put-away", {"group": group.name}))
    name = read_name(title, field="title", example="Offsets for Thursday")
    library = library.under(group.organisation.local_rules)
    check_counts(library, families)
    if kind not in KINDS:
        raise _refused("groups.work-kind", kind, "groups.work-kind-accepted", "home", "kind")
    due_at = read_due(due_on, due_time, ZoneInfo(group.organisation.time_zone), now)
    work = AssignedWork(
        public_id=new_public_id(),
        group_id=group.id,
        given_by_id=actor.person_id,
        kind=kind,
        title=name,
        edition=edition,
        due_at=due_at,
        shared_seed=secrets.randbelow(LARGEST_SEED) if same_numbers else None,
        problem_set_id=problem_set_id,
        created_at=now,
        form_key=form_key or None,
    )
    session.add(work)
    session.flush()
    _add_lines(session, library, work.id, lines_for(library, families), now)
    note(session, what="work.given", now=now, actor_id=actor.person_id, group_id=group.id)
    return work.public_id


def read_due(due_on: date, due_time: time, zone: ZoneInfo, now: datetime, *, field: str = "due_on") -> datetime:
    """
    The end of a day on which something is due, in UTC.

    Raises:
        InputError: With `field`, when that is past or more than two years off.
    """
    today = now.astimezone(zone).date()
    tomorrow = (today + timedelta(days=1)).isoformat()
    if due_on > today + FURTHEST:
        raise _refused("groups.due-far", due_on.isoformat(), "groups.due-accepted", tomorrow, field)
    # A day of the first years has no beginning in UTC.
    if due_on < today or (due_at := datetime.combine(due_on, due_time, tzinfo=zone).astimezone(UTC)) <= now:
        raise _refused("groups.due-past", due_on.isoformat(), "groups.due-accepted", tomorrow, field)
    return due_at


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


def _given_by(session: Session, actor: Actor, form_key: str) -> str | None:
    """What the same form gave when it was sent before; two at the same moment queue up at the person."""
    lock_person(session, actor.person_id)
    query = select(AssignedWork.public_id)
    return session.scalar(query.where(AssignedWork.given_by_id == actor.person_id, AssignedWork.form_key == form_key))


def _add_lines(session: Session, library: Library, work_id: int, asked: Sequence[str], now: datetime) -> None:
    """The lines of a work, each pinned to the version that its family has now."""
    versions = pin_all(session, [library.families[family_id] for family_id in dict.fromkeys(asked)], now)
    lines = [
        {"assigned_work_id": work_id, "position": position, "content_version_id": versions[family_id]}
        for position, family_id in enumerate(asked, start=1)
    ]
    session.execute(insert(AssignedFamily), lines)


def _refused(reason: str, given: str, accepted: str, example: str, field: str) -> InputError:
    return InputError(Message(reason), given=given[:400], accepted=Message(accepted), example=example, field=field)
