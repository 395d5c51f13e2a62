"""Assigned work as the learner sees it: what is due, and what is done."""

from __future__ import annotations

from datetime import datetime
from functools import cache
from zoneinfo import ZoneInfo

from msgspec import Struct
from sqlalchemy import ColumnElement, Select, bindparam, select
from sqlalchemy.orm import Session

from trainer.accounts.access import NotFoundError, given_to
from trainer.accounts.actor import Actor
from trainer.groups.lines import WorkLine, lines_of
from trainer.groups.tries import Best, Came, Tried, best_of, tries_at
from trainer.library.shelf import Library
from trainer.progress.room import more_time_until
from trainer.progress.today import DueWork
from trainer.records.models import AssignedWork, Group, Organisation

__all__ = ["LearnerLine", "LearnerWork", "due_work", "learner_work", "work_of_learner"]


class LearnerLine(Struct, frozen=True):
    """
    One line of assigned work.

    Args:
        position: Its place, from 1.
        family_id: The family that is asked.
        title: Its title.
        skill: The skill that it exercises.
        best: What counts of it so far.
        open_problem: Public id of the problem to go on with, if one is open.
    """

    position: int
    family_id: str
    title: str
    skill: str
    best: Best
    open_problem: str | None


class LearnerWork(Struct, frozen=True):
    """
    Assigned work of one learner.

    Args:
        work: Public id.
        title: Its title.
        kind: "home", "room" or "paper".
        group: Name of the group.
        due_at: When it is due for this learner, in UTC.
        time_zone: Zone in which to show that.
        days_left: Whole days of that zone's calendar until then; below 0 once the day is past.
        past_due: Whether it is over: answers count no more.
        opened: Whether its lines can be opened: in the room once its leader has opened it, on paper once there is a sheet.
        more_time: Whether the learner was given more time than the others.
        ended: Whether it was open in the room and is over.
        lines: In their order.
    """

    work: str
    title: str
    kind: str
    group: str
    due_at: datetime
    time_zone: str
    days_left: int
    past_due: bool
    opened: bool
    more_time: bool
    ended: bool
    lines: tuple[LearnerLine, ...]

    @property
    def answered(self) -> int:
        """Lines that have an answer which counts."""
        return sum(line.best.first is not None for line in self.lines)

    @property
    def right(self) -> int:
        """Lines that are right, with help or without."""
        return sum(line.best.came >= Came.WITH_HELP for line in self.lines)

    @property
    def in_the_room(self) -> bool:
        """Whether it is done in the room, and that lasts."""
        return self.kind == "room" and not self.past_due

    @property
    def open_in_the_room(self) -> bool:
        """Whether everybody is at it in the room now."""
        return self.in_the_room and self.opened


def work_of_learner(session: Session, library: Library, actor: Actor, now: datetime) -> list[LearnerWork]:
    """All work of the groups in which one learns, but what is withdrawn or put away: open in the room first, then the latest due date."""
    groups = [one.group_id for one in actor.learns_in if not one.group_is_archived]
    found = _works(session, library, actor, now, AssignedWork.group_id.in_(groups))
    return sorted(found, key=lambda work: not work.open_in_the_room)


def learner_work(session: Session, library: Library, actor: Actor, work_public_id: str, now: datetime) -> LearnerWork:
    """
    One piece of work.

    Raises:
        NotFoundError: When no such work was given to the one who asks.
    """
    found = _works(session, library, actor, now, given_to(actor, work_public_id))
    if not found:
        raise NotFoundError
    return found[0]


def due_work(session: Session, library: Library, actor: Actor, now: datetime) -> list[DueWork]:
    """
    Work that is not past its due date and has lines without an answer: for `progress.today`.

    What is under way in the room first, then what is due soonest. What is on paper, or not open yet, is left out.
    """
    soonest = reversed(work_of_learner(session, library, actor, now))
    works = sorted(soonest, key=lambda work: not work.open_in_the_room)
    return [
        DueWork(
            work.work,
            work.title,
            work.group,
            work.due_at,
            work.time_zone,
            work.days_left,
            work.answered,
            len(work.lines),
            work.open_in_the_room,
        )
        for work in works
        if work.opened and work.kind != "paper" and not work.past_due and work.answered < len(work.lines)
    ]


def _works(
    session: Session, library: Library, actor: Actor, now: datetime, which: ColumnElement[bool]
) -> list[LearnerWork]:
    found = session.execute(_in_force().where(which), {"learner": actor.person_id}).all()
    works = [row.id for row, *_ in found]
    tries = tries_at(session, works, actor.person_id)
    lines = lines_of(session, library, works)
    return [
        _work(row, lines.get(row.id, []), tries, until, group=group, zone=zone, now=now)
        for row, group, zone, until in found
    ]


@cache
def _in_force() -> Select[AssignedWork, str, str, datetime | None]:
    """Work with its group's name and zone, and until when the learner has more time; built once, each problem's page asks."""
    return (
        select(AssignedWork, Group.name, Organisation.time_zone, more_time_until(AssignedWork.id, bindparam("learner")))
        .join(Group, Group.id == AssignedWork.group_id)
        .join(Organisation, Organisation.id == Group.organisation_id)
        .where(AssignedWork.withdrawn_at.is_(None))
        .order_by(AssignedWork.due_at.desc(), AssignedWork.id.desc())
    )


def _work(
    row: AssignedWork,
    lines: list[WorkLine],
    tries: list[Tried],
    until: datetime | None,
    *,
    group: str,
    zone: str,
    now: datetime,
) -> LearnerWork:
    due_at = max(row.due_at, until or row.due_at)
    mine = [one for one in tries if one.work_id == row.id]
    return LearnerWork(
        work=row.public_id,
        title=row.title,
        kind=row.kind,
        group=group,
        due_at=due_at,
        time_zone=zone,
        days_left=_days_left(due_at, ZoneInfo(zone), now),
        past_due=now > due_at,
        opened=_opened(row, mine) or now > due_at,
        more_time=due_at > row.due_at,
        ended=row.kind == "room" and row.opened_at is not None and now > due_at,
        lines=tuple(_line(line, [one for one in mine if one.position == line.position], row.due_at) for line in lines),
    )


def _opened(row: AssignedWork, tries: list[Tried]) -> bool:
    return bool(tries) if row.kind == "paper" else row.kind == "home" or row.opened_at is not None


def _line(line: WorkLine, tries: list[Tried], due_at: datetime) -> LearnerLine:
    still_open = tries[-1].problem if tries and tries[-1].open else None
    family = line.family
    return LearnerLine(line.position, family.id, family.title, family.skill, best_of(tries, due_at), still_open)


def _days_left(due_at: datetime, zone: ZoneInfo, now: datetime) -> int:
    return (due_at.astimezone(zone).date() - now.astimezone(zone).date()).days
