"""
One member as a leader sees them: assigned work, skills, the answers behind them, single problems; each as far as shared.

Work that was assigned in the group is always shown to its leaders. That they looked is noted for the member to see.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from datetime import datetime

from msgspec import Struct
from msgspec.structs import replace
from sqlalchemy import Select, select
from sqlalchemy.orm import Session

from trainer.accounts.access import LearnerRef, NotFoundError, ProblemRef, learner_seen_by, problem_seen_by
from trainer.accounts.actor import Actor
from trainer.accounts.sharing import Shared, shared_with
from trainer.groups.board import LOOKED, shown_skills
from trainer.groups.job_types import job_names
from trainer.groups.lines import WorkLine, lines_of
from trainer.groups.looks import note_looks
from trainer.groups.tries import Best, Tried, best_of, tries_at
from trainer.library.shelf import Library
from trainer.progress.evidence import EvidenceLine, evidence
from trainer.progress.page import ProblemPage
from trainer.progress.practice import show
from trainer.progress.record import SkillLine, skills_of
from trainer.records.models import AssignedWork

__all__ = [
    "Member",
    "MemberLine",
    "MemberProblem",
    "MemberSkill",
    "MemberWork",
    "member",
    "member_problem",
    "member_skill",
]

ASSIGNED = "assigned"
PROOF = "proof"


class MemberLine(Struct, frozen=True):
    """One line of assigned work and what came of it."""

    position: int
    family_id: str
    title: str
    best: Best


class MemberWork(Struct, frozen=True):
    """Work that was assigned in the group, as one member did it."""

    work: str
    title: str
    due_at: datetime
    lines: tuple[MemberLine, ...]


class Member(Struct, frozen=True):
    """
    A member's page.

    Args:
        learner: Who, in which group.
        shares: Parts of the record that the member shows.
        works: Assigned work, the latest due date first.
        skills: Where the member stands, skill by skill; None unless readiness is shared.
        jobs: Public id and name of each job type of the organisation; none unless readiness is shared.
    """

    learner: LearnerRef
    shares: frozenset[Shared]
    works: tuple[MemberWork, ...]
    skills: tuple[SkillLine, ...] | None
    jobs: tuple[tuple[str, str], ...]


class MemberSkill(Struct, frozen=True):
    """One skill of a member, the answers behind it, and which of their problems the one who asks may open."""

    learner: LearnerRef
    shares: frozenset[Shared]
    line: SkillLine
    answers: tuple[EvidenceLine, ...]
    can_open: frozenset[str]


class MemberProblem(Struct, frozen=True):
    """A member's problem as it was."""

    learner: LearnerRef
    page: ProblemPage


def member(
    session: Session, library: Library, actor: Actor, group_public_id: str, person_public_id: str, *, now: datetime
) -> Member:
    """
    A member's page, for who leads the group.

    Args:
        session: A write session.
        library: The content.
        actor: Who asks.
        group_public_id: The group.
        person_public_id: The member, or someone who has left it.
        now: This moment.

    Raises:
        NotFoundError: When the group is not his to know of, or the person never learned in it.
        NotAllowedError: When he does not lead it.
    """
    learner = learner_seen_by(session, actor, group_public_id, person_public_id, Shared.ASSIGNED)
    _note(session, actor, learner, "looked.assigned", now)
    shares = shared_with(session, learner.person_id, learner.group.id) if learner.is_member else frozenset()
    skills: tuple[SkillLine, ...] | None = None
    jobs: tuple[tuple[str, str], ...] = ()
    if Shared.READINESS in shares:
        _note(session, actor, learner, LOOKED, now)
        skills = shown_skills(skills_of(session, library, learner.person_id, now), shares)
        jobs = job_names(session, learner.group.organisation.id)
    return Member(learner, shares, tuple(_works(session, library, learner)), skills, jobs)


def member_skill(
    session: Session,
    library: Library,
    actor: Actor,
    group_public_id: str,
    person_public_id: str,
    *,
    skill: str,
    now: datetime,
) -> MemberSkill:
    """
    The answers behind one skill of a member: when, which question, the verdict; with practice also what was typed.

    Args as `member`.

    Raises:
        NotFoundError: As `member`, or when there is no such skill.
        NotAllowedError: As `member`, or when the member does not share readiness with the group.
    """
    learner = learner_seen_by(session, actor, group_public_id, person_public_id, Shared.READINESS)
    _note(session, actor, learner, LOOKED, now)
    shares = shared_with(session, learner.person_id, learner.group.id)
    skills = shown_skills(skills_of(session, library, learner.person_id, now), shares)
    line = next((line for line in skills if line.skill == skill), None)
    if line is None:
        raise NotFoundError
    works = session.scalars(_works_of(learner)).all()
    own = {one.problem: one for one in tries_at(session, [work.id for work in works], learner.person_id)}
    answers = evidence(session, library, learner.person_id, skill)
    if Shared.PRACTICE not in shares:
        return MemberSkill(learner, shares, line, tuple(_veiled(answers, own)), frozenset(own))
    free = {one.problem for one in answers if one.context != ASSIGNED}
    return MemberSkill(learner, shares, line, tuple(answers), frozenset(own) | free)


def member_problem(
    session: Session,
    library: Library,
    actor: Actor,
    group_public_id: str,
    person_public_id: str,
    *,
    problem_public_id: str,
    now: datetime,
    language: str = "en",
) -> MemberProblem:
    """
    A member's problem as it was, with every answer as typed.

    Raises:
        NotFoundError: When the group is not his to know of, or the problem is not this member's, or another group's.
        NotAllowedError: When he does not lead the group, or the member does not share this.
    """
    found = problem_seen_by(session, actor, group_public_id, person_public_id, problem_public_id)
    learner = learner_seen_by(session, actor, group_public_id, person_public_id, Shared.ASSIGNED)
    _note(session, actor, learner, f"looked.{_part(found)}", now)
    return MemberProblem(learner, show(session, library, found.person_id, problem_public_id, language=language))


def _part(found: ProblemRef) -> Shared:
    """The part of the record that a problem belongs to."""
    if found.context == ASSIGNED:
        return Shared.ASSIGNED
    return Shared.READINESS if found.context == PROOF else Shared.PRACTICE


def _works_of(learner: LearnerRef) -> Select[AssignedWork]:
    return (
        select(AssignedWork)
        .where(AssignedWork.group_id == learner.group.id, AssignedWork.withdrawn_at.is_(None))
        .order_by(AssignedWork.due_at.desc(), AssignedWork.id.desc())
    )


def _works(session: Session, library: Library, learner: LearnerRef) -> Iterable[MemberWork]:
    works = session.scalars(_works_of(learner)).all()
    ids = [work.id for work in works]
    lines, tries = lines_of(session, library, ids), tries_at(session, ids, learner.person_id)
    for work in works:
        own = [one for one in tries if one.work_id == work.id]
        done = tuple(_line(line, own, work.due_at) for line in lines.get(work.id, []))
        yield MemberWork(work.public_id, work.title, work.due_at, done)


def _line(line: WorkLine, tries: list[Tried], due_at: datetime) -> MemberLine:
    best = best_of([one for one in tries if one.position == line.position], due_at)
    return MemberLine(line.position, line.family.id, line.family.title, best)


def _veiled(answers: Iterable[EvidenceLine], own: Collection[str]) -> Iterable[EvidenceLine]:
    """The answers; what was typed and which slip it was shows in the group's own work only."""
    for line in answers:
        yield line if line.problem in own else replace(line, typed="", mistakes=())


def _note(session: Session, actor: Actor, learner: LearnerRef, what: str, now: datetime) -> None:
    note_looks(session, actor, learner.group.id, [learner.person_id], what=what, now=now)
