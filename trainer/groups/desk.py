"""A leader's desk: the classes and crews that one leads, how many people are in each, and what they have to do by when."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from datetime import datetime

from msgspec import Struct
from sqlalchemy import func, or_, select
from sqlalchemy.orm import Session

from trainer.accounts.actor import Actor
from trainer.groups.tries import answered_in_time
from trainer.records.joins import problems_of_lines
from trainer.records.models import (
    Answer,
    AssignedFamily,
    AssignedWork,
    Group,
    Membership,
    Organisation,
    Problem,
)

__all__ = ["DeskGroup", "DeskWork", "begun_in", "desk"]


class DeskWork(Struct, frozen=True):
    """Work that is not past its due date; `begun` members of the group have answered some of it in time."""

    work: str
    title: str
    due_at: datetime
    begun: int


class DeskGroup(Struct, frozen=True):
    """
    A class or crew that one leads.

    Args:
        group: Public id.
        name: Its name.
        kind: "class" or "crew".
        organisation: Name of its school or shop.
        time_zone: Zone in which to show its dates.
        people: How many learn in it.
        is_open: Whether it can be joined.
        is_sample: Whether everybody in it is invented.
        due: Work that is still to be done, soonest first.
        has_begun: Whether any work was ever given in it.
    """

    group: str
    name: str
    kind: str
    organisation: str
    time_zone: str
    people: int
    is_open: bool
    is_sample: bool
    due: tuple[DeskWork, ...]
    has_begun: bool


def desk(session: Session, actor: Actor, now: datetime) -> list[DeskGroup]:
    """
    The groups that the one who asks leads, as an owner all of the organisation, with what is due soonest first.

    Five queries, however many groups there are.
    """
    own = [one.group_id for one in actor.leads]
    owned = [one.organisation_id for one in actor.owns]
    query = (
        select(Group, Organisation)
        .join(Organisation, Organisation.id == Group.organisation_id)
        .where(or_(Group.id.in_(own), Group.organisation_id.in_(owned)), Group.archived_at.is_(None))
        .order_by(Group.name, Group.id)
    )
    found = session.execute(query).all()
    ids = [group.id for group, _ in found]
    people, due = _people(session, ids), _due(session, ids, now)
    begun = set(session.scalars(select(AssignedWork.group_id).where(AssignedWork.group_id.in_(ids)).distinct()))
    groups = [
        _group(group, of, people.get(group.id, 0), due.get(group.id, []), has_begun=group.id in begun)
        for group, of in found
    ]
    return sorted(groups, key=lambda group: (not group.due, group.due[0].due_at if group.due else now))


def begun_in(session: Session, groups: Collection[int]) -> Mapping[str, int]:
    """
    How many present members have begun each work of these groups, by the work's public id.

    Who has answered some of it in time has begun; see `PersonResults.has_begun`.
    """
    query = (
        select(AssignedWork.public_id, func.count(Problem.person_id.distinct()))
        .join(AssignedFamily, AssignedFamily.assigned_work_id == AssignedWork.id)
        .join(Problem, problems_of_lines())
        .join(Answer, Answer.problem_id == Problem.id)
        .join(Membership, (Membership.person_id == Problem.person_id) & (Membership.group_id == AssignedWork.group_id))
        .where(AssignedWork.group_id.in_(groups), answered_in_time())
        .where(Membership.role == "learner", Membership.ended_at.is_(None))
        .group_by(AssignedWork.public_id)
    )
    return dict(session.execute(query).all())


def _people(session: Session, groups: Collection[int]) -> Mapping[int, int]:
    query = (
        select(Group.id, func.count())
        .join(Membership, Membership.group_id == Group.id)
        .where(Group.id.in_(groups), Membership.role == "learner", Membership.ended_at.is_(None))
        .group_by(Group.id)
    )
    return dict(session.execute(query).all())


def _due(session: Session, groups: Collection[int], now: datetime) -> Mapping[int, list[DeskWork]]:
    """Work that can still be done, by group, soonest first."""
    begun = begun_in(session, groups)
    query = (
        select(AssignedWork)
        .where(AssignedWork.group_id.in_(groups), AssignedWork.withdrawn_at.is_(None), AssignedWork.due_at > now)
        .order_by(AssignedWork.due_at, AssignedWork.id)
    )
    found: dict[int, list[DeskWork]] = {}
    for work in session.scalars(query):
        line = DeskWork(work.public_id, work.title, work.due_at, begun.get(work.public_id, 0))
        found.setdefault(work.group_id, []).append(line)
    return found


def _group(row: Group, organisation: Organisation, people: int, due: list[DeskWork], *, has_begun: bool) -> DeskGroup:
    return DeskGroup(
        group=row.public_id,
        name=row.name,
        kind=row.kind,
        organisation=organisation.name,
        time_zone=organisation.time_zone,
        people=people,
        is_open=row.join_code is not None,
        is_sample=row.is_sample,
        due=tuple(due),
        has_begun=has_begun,
    )
