"""What the site holds about a person, counted, for that person to read."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime

from msgspec import Struct
from sqlalchemy import ColumnElement, ScalarSelect, func, or_, select
from sqlalchemy.orm import InstrumentedAttribute, Session

from trainer.accounts.audit import LOOKED_KINDS, begins_with
from trainer.records.joins import problems_of_lines
from trainer.records.models import (
    Answer,
    AssignedFamily,
    AssignedWork,
    Attendance,
    AuditLine,
    CalendarFeed,
    CheckPhoto,
    FieldFinding,
    FindingPhoto,
    Group,
    HandsOnCheck,
    JobHours,
    KeyClaim,
    LessonReading,
    Membership,
    MistakeHistory,
    Organisation,
    OutsideAccount,
    Person,
    PlacementRun,
    Problem,
    ProofRun,
    ProofSitting,
    RecoveryCode,
    Registration,
    ResultMark,
    SecondFactor,
    SkillState,
    WorkExtension,
)

__all__ = ["Held", "LeftGroup", "held_about"]

#: What hangs on the person itself, by its name in `Held`.
OWN: Mapping[
    str,
    type[
        Problem
        | Answer
        | SkillState
        | MistakeHistory
        | LessonReading
        | PlacementRun
        | ProofRun
        | HandsOnCheck
        | FieldFinding
        | JobHours
        | Attendance
        | Registration
        | KeyClaim
        | ResultMark
        | WorkExtension
        | CalendarFeed
        | SecondFactor
        | RecoveryCode
        | OutsideAccount
    ],
] = {
    "problems": Problem,
    "answers": Answer,
    "skills": SkillState,
    "slips": MistakeHistory,
    "lessons": LessonReading,
    "placement_runs": PlacementRun,
    "proof_runs": ProofRun,
    "checks": HandsOnCheck,
    "findings": FieldFinding,
    "hours": JobHours,
    "attendance": Attendance,
    "registrations": Registration,
    "claims": KeyClaim,
    "marks": ResultMark,
    "extensions": WorkExtension,
    "calendars": CalendarFeed,
    "second_factors": SecondFactor,
    "paper_codes": RecoveryCode,
    "outside_accounts": OutsideAccount,
}


class LeftGroup(Struct, frozen=True):
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


class Held(Struct, frozen=True):
    """
    Counts of a person's rows.

    Args:
        since: When the account was made.
        problems: Problems that were issued.
        answers: Answers, each with what it was judged to be.
        skills: Skills with a level.
        slips: Known mistakes that a tally is kept of.
        lessons: Lessons read.
        placement_runs: Placement runs.
        proof_runs: Proof runs.
        sittings: Sittings of them that somebody watched.
        checks: Hands-on checks that were set.
        findings: What the job showed, withdrawn ones too.
        photos: Photographs with findings and checks.
        hours: Entries of hours on the job, those taken back too.
        attendance: Days of class on which the person was there.
        registrations: Registrations and licences, those taken away too.
        claims: Keys that the person called wrong.
        marks: Points that a leader set by hand, those taken back too.
        extensions: Times that the person was given more time.
        calendars: Addresses for a calendar program, those that are ended too.
        second_factors: Set-ups of an app for codes at sign-in.
        paper_codes: Codes on paper for it, used ones too.
        outside_accounts: Accounts at other sites that sign the person in.
        listed: Memberships that hold a name or a number from a list.
        looks: Notes that somebody looked or took a file along.
        noted: All notes about the person.
        left: Classes and crews that the person has left, the last first.
    """

    since: datetime
    problems: int
    answers: int
    skills: int
    slips: int
    lessons: int
    placement_runs: int
    proof_runs: int
    sittings: int
    checks: int
    findings: int
    photos: int
    hours: int
    attendance: int
    registrations: int
    claims: int
    marks: int
    extensions: int
    calendars: int
    second_factors: int
    paper_codes: int
    outside_accounts: int
    listed: int
    looks: int
    noted: int
    left: tuple[LeftGroup, ...]


def held_about(session: Session, person_id: int) -> Held:
    """
    What is held about a person.

    Raises:
        NoResultFound: When there is no such person.
    """
    own = {name: _count(table.id, table.person_id == person_id) for name, table in OWN.items()}
    query = select(
        Person.created_at,
        *own.values(),
        _count(ProofSitting.id, ProofSitting.run_id == ProofRun.id, ProofRun.person_id == person_id),
        _count(FindingPhoto.id, FindingPhoto.finding_id == FieldFinding.id, FieldFinding.person_id == person_id)
        + _count(CheckPhoto.id, CheckPhoto.check_id == HandsOnCheck.id, HandsOnCheck.person_id == person_id),
        _count(
            Membership.id,
            Membership.person_id == person_id,
            or_(Membership.roster_name.is_not(None), Membership.roster_number.is_not(None)),
        ),
        _count(AuditLine.id, AuditLine.subject_id == person_id, begins_with(LOOKED_KINDS)),
        _count(AuditLine.id, AuditLine.subject_id == person_id),
    )
    since, *counts = session.execute(query.where(Person.id == person_id)).one()
    names = (*own, "sittings", "photos", "listed", "looks", "noted")
    return Held(since, **dict(zip(names, counts, strict=True)), left=_left(session, person_id))


def _count(key: InstrumentedAttribute[int], *conditions: ColumnElement[bool]) -> ScalarSelect[int]:
    return select(func.count(key)).where(*conditions).scalar_subquery()


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
        .join(AssignedFamily, problems_of_lines())
        .join(AssignedWork, AssignedWork.id == AssignedFamily.assigned_work_id)
        .where(Answer.person_id == person_id, AssignedWork.group_id == Group.id)
        .correlate(Group)
        .scalar_subquery()
    )
