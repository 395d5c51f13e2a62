"""What the site holds about a person, counted, for that person to read."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import ScalarSelect, func, select
from sqlalchemy.orm import Session

from trainer.records.models import (
    Answer,
    AssignedFamily,
    AssignedWork,
    FieldFinding,
    FindingPhoto,
    Group,
    LessonReading,
    Membership,
    Organisation,
    Person,
    Problem,
    SkillState,
)

__all__ = ["Held", "LeftGroup", "held_about"]


@dataclass(frozen=True, slots=True)
class LeftGroup:
    """
    A class or crew that the person has left.

    Args:
        name: Its name.
        organisation: Name of its school or shop.
        kind: "class" or "crew".
        left_at: When the person left it, last.
        answers_kept: Answers to work assigned in it; they stay its record.
    """

    name: str
    organisation: str
    kind: str
    left_at: datetime
    answers_kept: int


@dataclass(frozen=True, slots=True)
class Held:
    """
    Counts of a person's rows.

    Args:
        since: When the account was made.
        problems: Problems that were issued.
        answers: Answers, each with what it was judged to be.
        skills: Skills with a level.
        lessons: Lessons read.
        photos: Photographs of findings from the job.
        left: Classes and crews that the person has left, the last first.
    """

    since: datetime
    problems: int
    answers: int
    skills: int
    lessons: int
    photos: int
    left: tuple[LeftGroup, ...]


def held_about(session: Session, person_id: int) -> Held:
    """
    What is held about a person.

    Raises:
        NoResultFound: When there is no such person.
    """
    query = select(
        Person.created_at,
        _count(Problem, person_id),
        _count(Answer, person_id),
        _count(SkillState, person_id),
        _count(LessonReading, person_id),
        _photos(person_id),
    )
    since, problems, answers, skills, lessons, photos = session.execute(query.where(Person.id == person_id)).one()
    return Held(since, problems, answers, skills, lessons, photos, _left(session, person_id))


def _count(table: type[Problem | Answer | SkillState | LessonReading], person_id: int) -> ScalarSelect[int]:
    return select(func.count()).select_from(table).where(table.person_id == person_id).scalar_subquery()


def _photos(person_id: int) -> ScalarSelect[int]:
    query = select(func.count(FindingPhoto.id)).join(FieldFinding, FieldFinding.id == FindingPhoto.finding_id)
    return query.where(FieldFinding.person_id == person_id).scalar_subquery()


def _left(session: Session, person_id: int) -> tuple[LeftGroup, ...]:
    """Groups in which the person learned and learns no more."""
    left_at = func.max(Membership.ended_at)
    query = (
        select(Group.name, Organisation.name, Group.kind, left_at, _kept(person_id))
        .join(Membership, Membership.group_id == Group.id)
        .join(Organisation, Organisation.id == Group.organisation_id)
        .where(Membership.person_id == person_id, Membership.role == "learner")
        .group_by(Group.id, Group.name, Organisation.name, Group.kind)
        # A membership that is open has no end, and a group with one is not left.
        .having(func.count() == func.count(Membership.ended_at))
        .order_by(left_at.desc(), Group.id)
    )
    found = session.execute(query)
    return tuple(LeftGroup(name, shop, kind, at, kept) for name, shop, kind, at, kept in found if at is not None)


def _kept(person_id: int) -> ScalarSelect[int]:
    """Answers of a person to work that was assigned in the group of the query around."""
    return (
        select(func.count(Answer.id))
        .join(Problem, Problem.id == Answer.problem_id)
        .join(AssignedFamily, AssignedFamily.id == Problem.assigned_family_id)
        .join(AssignedWork, AssignedWork.id == AssignedFamily.assigned_work_id)
        .where(Answer.person_id == person_id, AssignedWork.group_id == Group.id)
        .correlate(Group)
        .scalar_subquery()
    )
