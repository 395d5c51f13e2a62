"""
How strict "ready" is meant for a person's skills, and whether it has to be watched: as the job types of his shops ask it.

A run begins on the strictest line that any of them asks. Where none asks for the skill it is the strict one.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from datetime import timedelta

from msgspec import Struct
from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.progress.points import Line
from trainer.records.models import JobType, JobTypeSkill, Membership, Organisation

__all__ = ["NOTHING_ASKED", "Asked", "asked_for", "asked_of"]


class AskingJob(Struct, frozen=True):
    """
    A job type that asks for a skill.

    Args:
        name: Its name.
        organisation: That of its shop.
        line: How strict "ready" is meant.
        watched: Whether only watched runs count.
        valid: How long a run counts; None where only fading ends it.
    """

    name: str
    organisation: str
    line: Line
    watched: bool
    valid: timedelta | None


class Asked(Struct, frozen=True):
    """What the job types of somebody's shops and schools ask of one skill."""

    jobs: tuple[AskingJob, ...]

    @property
    def line(self) -> Line:
        """The line that a run begins on."""
        return Line.LIGHT if self.jobs and all(job.line is Line.LIGHT for job in self.jobs) else Line.STRICT

    @property
    def watched(self) -> tuple[str, ...]:
        """Names of the job types for which only a watched run counts."""
        return tuple(job.name for job in self.jobs if job.watched)

    @property
    def only_watched(self) -> bool:
        """Whether an unwatched run counts for none of them."""
        return bool(self.jobs) and all(job.watched for job in self.jobs)

    @property
    def valid(self) -> timedelta | None:
        """How long a run counts for all of them: the shortest time that any of them sets; None where none does."""
        return min((job.valid for job in self.jobs if job.valid is not None), default=None)


NOTHING_ASKED = Asked(())


def asked_for(session: Session, person_id: int, skill: str) -> Asked:
    """What they ask of one skill; nothing, and so the strict line, where none asks for it."""
    return asked_of(session, person_id, [skill]).get(skill, NOTHING_ASKED)


def asked_of(session: Session, person_id: int, skills: Collection[str]) -> Mapping[str, Asked]:
    """What the job types of a person's shops and schools ask, by skill; only those that are asked. One query."""
    learns_in = select(Membership.organisation_id).where(
        Membership.person_id == person_id, Membership.role == "learner", Membership.ended_at.is_(None)
    )
    query = (
        select(JobTypeSkill.skill, JobType, Organisation.name, JobTypeSkill.line)
        .join(JobType, JobType.id == JobTypeSkill.job_type_id)
        .join(Organisation, Organisation.id == JobType.organisation_id)
        .where(JobTypeSkill.skill.in_(skills), JobType.ended_at.is_(None), JobType.organisation_id.in_(learns_in))
        .order_by(JobType.name, JobType.id)
    )
    found: dict[str, list[AskingJob]] = {}
    for skill, job, organisation, line in session.execute(query):
        valid = None if job.valid_days is None else timedelta(days=job.valid_days)
        found.setdefault(skill, []).append(AskingJob(job.name, organisation, Line(line), job.watched, valid))
    return {skill: Asked(tuple(jobs)) for skill, jobs in found.items()}
