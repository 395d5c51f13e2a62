"""All that a person's own record holds, in plain values: for a paper that the person takes along without asking anybody."""

from __future__ import annotations

from datetime import datetime

from msgspec import Struct
from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.accounts.actor import Actor
from trainer.groups.hours_log import HoursLog, hours_log
from trainer.groups.registrations import RegistrationLine, own_registrations
from trainer.library.shelf import Library
from trainer.progress.field import Finding, findings_about
from trainer.progress.hands_on import Check, own_checks
from trainer.progress.record import SkillLine, skills_of
from trainer.progress.watching import watchers_of
from trainer.records.models import ProofRun

__all__ = ["DecidedRun", "OwnRecord", "own_record"]


class DecidedRun(Struct, frozen=True):
    """A proof run that was decided: skill, outcome, questions that counted, who sat beside (none for nobody), and when."""

    title: str
    outcome: str
    counted: int
    watched_by: tuple[str, ...]
    ended_at: datetime


class OwnRecord(Struct, frozen=True):
    """
    A person's record.

    Args:
        actor: Whose it is.
        skills: Those begun.
        titles: Titles of all skills, by id.
        runs: Proof runs that were decided, the newest first.
        checks: Hands-on checks that were signed, the newest first.
        hours: The log of hours.
        findings: What the job showed, the newest first.
        registrations: Registrations and licences, the last to run out first.
    """

    actor: Actor
    skills: tuple[SkillLine, ...]
    titles: dict[str, str]
    runs: tuple[DecidedRun, ...]
    checks: tuple[Check, ...]
    hours: HoursLog
    findings: tuple[Finding, ...]
    registrations: tuple[RegistrationLine, ...]


def own_record(session: Session, library: Library, actor: Actor, now: datetime) -> OwnRecord:
    """The record of the one who asks."""
    person = actor.person_id
    return OwnRecord(
        actor,
        skills=tuple(line for line in skills_of(session, library, person, now) if line.counted),
        titles={skill.id: skill.title for skill in library.skills.values()},
        runs=_runs(session, library, person),
        checks=tuple(one for one in own_checks(session, person) if one.signings),
        hours=hours_log(session, library, actor, now),
        findings=tuple(findings_about(session, person)),
        registrations=own_registrations(session, actor, now),
    )


def _runs(session: Session, library: Library, person_id: int) -> tuple[DecidedRun, ...]:
    """Runs that ended; one in which no question counted says nothing and is left out."""
    query = (
        select(ProofRun.id, ProofRun.skill, ProofRun.outcome, ProofRun.counted, ProofRun.ended_at)
        .where(ProofRun.person_id == person_id, ProofRun.ended_at.is_not(None), ProofRun.counted > 0)
        .order_by(ProofRun.ended_at.desc(), ProofRun.id.desc())
    )
    titles = {skill.id: skill.title for skill in library.skills.values()}
    watchers = watchers_of(session, [person_id])
    return tuple(
        DecidedRun(titles.get(skill, skill), outcome or "", counted, tuple(watchers.get(key, ())), ended_at)
        for key, skill, outcome, counted, ended_at in session.execute(query)
        if ended_at is not None
    )
