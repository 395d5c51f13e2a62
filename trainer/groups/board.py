"""
The members of a group and how they come along, as far as each of them shows it.

Assigned work is always shown to the group's leaders; where someone stands on each skill, and which answers that rests
on, with readiness; what was typed and which slips come back, with practice.
"""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime

from msgspec import Struct
from msgspec.structs import replace
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from trainer.accounts.access import GroupRef, group_led_by
from trainer.accounts.actor import Actor
from trainer.accounts.sharing import Shared
from trainer.groups.looks import note_looks
from trainer.groups.tries import answered_in_time
from trainer.library.shelf import Library
from trainer.progress.record import SkillLine, skills_of_people
from trainer.records.joins import problems_of_lines
from trainer.records.models import Answer, AssignedFamily, AssignedWork, Membership, Person, Problem, Share

__all__ = ["LOOKED", "Board", "MemberLine", "board", "shown_skills"]

LOOKED = "looked.readiness"


class MemberLine(Struct, frozen=True):
    """
    One member.

    Args:
        person: Public id.
        display_name: Name.
        since: When the person joined.
        shares: Parts of the record that the person shows.
        work_done: Lines of assigned work that were answered in time.
        work_lines: Lines of assigned work in all.
        skills: Where the person stands, skill by skill; None unless readiness is shared.
    """

    person: str
    display_name: str
    since: datetime
    shares: frozenset[Shared]
    work_done: int
    work_lines: int
    skills: tuple[SkillLine, ...] | None


class Board(Struct, frozen=True):
    """A group and its members by name."""

    group: GroupRef
    members: tuple[MemberLine, ...]


def board(session: Session, library: Library, actor: Actor, group_public_id: str, now: datetime) -> Board:
    """
    All members of a group, for who leads it. That he looked is noted for each whose skills are shown.

    Args:
        session: A write session.
        library: The content.
        actor: Who asks.
        group_public_id: The group.
        now: This moment.

    Raises:
        NotFoundError: When the group is not his to know of.
        NotAllowedError: When he does not lead it.
    """
    group = group_led_by(session, actor, group_public_id)
    members = _members(session, group.id)
    shares = _shares(session, group.id)
    open_to_us = [person.id for person, _ in members if Shared.READINESS in shares.get(person.id, frozenset())]
    skills = skills_of_people(session, library, open_to_us, now)
    done, lines = _work_done(session, group.id), _work_lines(session, group.id)
    note_looks(session, actor, group.id, open_to_us, what=LOOKED, now=now)
    return Board(
        group,
        tuple(
            MemberLine(
                person.public_id,
                person.display_name,
                since,
                shares.get(person.id, frozenset()),
                done.get(person.id, 0),
                lines,
                shown_skills(skills[person.id], shares[person.id]) if person.id in skills else None,
            )
            for person, since in members
        ),
    )


def shown_skills(skills: Collection[SkillLine], shares: frozenset[Shared]) -> tuple[SkillLine, ...]:
    """Skills as they are shown to whom these parts are open: the slips that come back belong to practice."""
    if Shared.PRACTICE in shares:
        return tuple(skills)
    return tuple(replace(line, mistakes=()) for line in skills)


def _members(session: Session, group_id: int) -> list[tuple[Person, datetime]]:
    query = (
        select(Person, Membership.started_at)
        .join(Membership, Membership.person_id == Person.id)
        .where(Membership.group_id == group_id, Membership.role == "learner", Membership.ended_at.is_(None))
        .order_by(Person.display_name, Person.id)
    )
    return list(session.execute(query))


def _shares(session: Session, group_id: int) -> dict[int, frozenset[Shared]]:
    query = select(Share.person_id, Share.what).where(Share.group_id == group_id, Share.ended_at.is_(None))
    found: dict[int, frozenset[Shared]] = {}
    for person, what in session.execute(query):
        found[person] = found.get(person, frozenset()) | {Shared(what)}
    return found


def _work_done(session: Session, group_id: int) -> dict[int, int]:
    """How many lines of the group's work each person answered in time."""
    query = (
        select(Problem.person_id, func.count(Problem.assigned_family_id.distinct()))
        .join(Answer, Answer.problem_id == Problem.id)
        .join(AssignedFamily, problems_of_lines())
        .join(AssignedWork, AssignedWork.id == AssignedFamily.assigned_work_id)
        .where(AssignedWork.group_id == group_id, AssignedWork.withdrawn_at.is_(None))
        .where(answered_in_time())
        .group_by(Problem.person_id)
    )
    return dict(session.execute(query).all())


def _work_lines(session: Session, group_id: int) -> int:
    query = (
        select(func.count())
        .select_from(AssignedFamily)
        .join(AssignedWork, AssignedWork.id == AssignedFamily.assigned_work_id)
        .where(AssignedWork.group_id == group_id, AssignedWork.withdrawn_at.is_(None))
    )
    return session.scalars(query).one()
