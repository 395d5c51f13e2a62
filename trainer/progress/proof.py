"""
Where a person stands with the proof run of a skill: closed and why, open to begin, on its way, decided; in plain values.

Practice tells when to try, only a run says "ready". Days are days of the person's own calendar.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from zoneinfo import ZoneInfo

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from trainer.calc.message import Message
from trainer.library.shelf import Library
from trainer.progress.alarm import alarmed_families
from trainer.progress.field import Finding, adverse_findings_of_people
from trainer.progress.habits import active_mistakes
from trainer.progress.opening import DUE_AFTER, faded, waiting_for
from trainer.progress.points import Line, Rule, rule_for
from trainer.progress.proof_families import askable
from trainer.progress.readiness import ACROSS_DAYS, MOST_A_DAY
from trainer.progress.states import standing_state, states_of
from trainer.records import models

__all__ = [
    "ACROSS_DAYS",
    "DUE_AFTER",
    "FAILED",
    "MOST_A_DAY",
    "ProofState",
    "ProofView",
    "counted_days",
    "counted_today",
    "qualifies",
    "ready_since",
    "refresh_due",
    "rule_of",
    "runs_of",
    "skills_found_ready",
    "view_proof",
]


FAILED = frozenset({"not-yet", "abandoned"})
"""Outcomes of a run after which the next one asks for more."""


class ProofState(StrEnum):
    """What can be done about it now."""

    CLOSED = "closed"
    OPEN = "open"
    RUNNING = "running"
    TOMORROW = "tomorrow"
    READY = "ready"


@dataclass(frozen=True, slots=True)
class ProofView:
    """
    A skill's proof run, as its person and who may see the record read it.

    Args:
        skill: Id of the skill.
        state: What can be done now.
        waiting: While it is closed: what is missing, each in a sentence.
        run: Public id of the run on its way; "" for none.
        points: Of that run.
        ready_at: Points that decide in that run, or in the next one.
        counted: Its counted answers.
        days: Different days on which they were given.
        left_today: How many more count today.
        ready_since: When the skill was last found ready; None where it never was.
        due: Whether a skill found ready is to be shown again: it has faded, or the job showed trouble.
        finding: What the job showed that a run has to answer, begun after it; None without.
        watched: Whether the run that found it ready was watched.
    """

    skill: str
    state: ProofState
    waiting: tuple[Message, ...]
    run: str
    points: float
    ready_at: float
    counted: int
    days: int
    left_today: int
    ready_since: datetime | None
    due: bool
    finding: Finding | None
    watched: bool


def view_proof(
    session: Session,
    library: Library,
    person_id: int,
    skill: str,
    *,
    now: datetime,
    zone: ZoneInfo,
    line: Line = Line.STRICT,
    watched: bool = False,
) -> ProofView:
    """
    Where a person stands with the proof run of a skill.

    Args:
        session: Any session; nothing is written.
        library: The content.
        person_id: Whose.
        skill: A skill of the library.
        now: This moment.
        zone: In which the person's days are counted.
        line: How strict "ready" is meant: a run on the lighter line does not stand for the stricter one.
        watched: Whether only a run that somebody watched counts.
    """
    runs = runs_of(session, person_id, skill)
    open_run = next((run for run in runs if run.ended_at is None), None)
    found = next((run for run in reversed(runs) if qualifies(run, line, watched=watched)), None)
    finding = adverse_findings_of_people(session, [person_id]).get((person_id, skill))
    due = found is not None and (finding is not None or refresh_due(session, person_id, skill, now))
    left = MOST_A_DAY - counted_today(session, person_id, skill, now=now, zone=zone)
    waiting = () if open_run else tuple(_waiting(session, library, person_id, skill, runs, now=now))
    if open_run is not None:
        state = ProofState.RUNNING if left > 0 else ProofState.TOMORROW
    elif found is not None and not due:
        state = ProofState.READY
    elif waiting:
        state = ProofState.CLOSED
    else:
        state = ProofState.OPEN if left > 0 else ProofState.TOMORROW
    return ProofView(
        skill=skill,
        state=state,
        waiting=waiting,
        run=open_run.public_id if open_run else "",
        points=open_run.points if open_run else 0.0,
        ready_at=open_run.ready_at if open_run else rule_of(runs, line, watched=watched).ready_at,
        counted=open_run.counted if open_run else 0,
        days=len(counted_days(session, open_run.id, zone)) if open_run else 0,
        left_today=max(left, 0),
        ready_since=found.ended_at if found else None,
        due=due,
        finding=finding,
        watched=found is not None and found.watched_by_id is not None,
    )


def ready_since(session: Session, person_id: int, skill: str) -> datetime | None:
    """When the skill was last found ready; None where it never was."""
    found = [run for run in runs_of(session, person_id, skill) if run.outcome == "ready"]
    return found[-1].ended_at if found else None


def skills_found_ready(session: Session, person_id: int) -> dict[str, datetime]:
    """The skills that a person was ever found ready in, and when last."""
    table = models.ProofRun
    query = (
        select(table.skill, func.max(table.ended_at))
        .where(table.person_id == person_id, table.outcome == "ready")
        .group_by(table.skill)
    )
    return {skill: at for skill, at in session.execute(query) if at is not None}


def refresh_due(session: Session, person_id: int, skill: str, now: datetime) -> bool:
    """Whether a skill that was found ready has faded, or has not been answered for long."""
    return faded(standing_state(skill, states_of(session, person_id)), now)


def counted_today(session: Session, person_id: int, skill: str, *, now: datetime, zone: ZoneInfo) -> int:
    """Questions of runs in this skill that were decided today."""
    start = now.astimezone(zone).replace(hour=0, minute=0, second=0, microsecond=0)
    table = models.Problem
    query = select(func.count()).where(
        table.person_id == person_id,
        table.skill == skill,
        table.proof_run_id.is_not(None),
        table.closed_at >= start,
    )
    return session.scalars(query).one()


def qualifies(run: models.ProofRun, line: Line, *, watched: bool = False) -> bool:
    """Whether a run found the skill ready, as strict as is asked and, where that is asked, watched."""
    as_strict = line is Line.LIGHT or run.line == Line.STRICT
    return run.outcome == "ready" and as_strict and (run.watched_by_id is not None or not watched)


def rule_of(runs: Collection[models.ProofRun], line: Line = Line.STRICT, *, watched: bool = False) -> Rule:
    """The rule of the next run after these. It is a shorter one only after a ready run that would count as well."""
    failed, refreshes = 0, False
    for run in runs:
        if qualifies(run, line, watched=watched):
            failed, refreshes = 0, True
        elif run.outcome in FAILED:
            failed += 1
    return rule_for(line, failed=failed, refreshes=refreshes)


def runs_of(session: Session, person_id: int, skill: str) -> list[models.ProofRun]:
    """A person's runs in a skill, the first one first."""
    table = models.ProofRun
    query = select(table).where(table.skill == skill, table.person_id == person_id).order_by(table.id)
    return list(session.scalars(query))


def counted_days(session: Session, run_id: int, zone: ZoneInfo) -> set[str]:
    """The days on which questions of a run were decided."""
    query = select(models.Problem.closed_at).where(
        models.Problem.proof_run_id == run_id, models.Problem.closed_at.is_not(None)
    )
    return {f"{closed.astimezone(zone):%Y-%m-%d}" for closed in session.scalars(query) if closed is not None}


def _waiting(
    session: Session,
    library: Library,
    person_id: int,
    skill: str,
    runs: Collection[models.ProofRun],
    *,
    now: datetime,
) -> list[Message]:
    """What is missing before a run opens."""
    last = next((run for run in reversed([*runs]) if run.outcome in FAILED), None)
    since = last.ended_at if last else None
    return waiting_for(
        standing_state(skill, states_of(session, person_id)),
        families=len(askable(library, skill, alarmed_families(session, library, skill))),
        mistakes=active_mistakes(session, person_id).get(skill, {}).values(),
        practised=_practised_since(session, person_id, skill, since) if since else None,
        now=now,
    )


def _practised_since(session: Session, person_id: int, skill: str, since: datetime) -> int:
    """Problems of the skill answered since then outside of runs."""
    query = (
        select(func.count(func.distinct(models.Answer.problem_id)))
        .join(models.Problem, models.Problem.id == models.Answer.problem_id)
        .where(
            models.Answer.person_id == person_id,
            models.Problem.skill == skill,
            models.Problem.proof_run_id.is_(None),
            models.Answer.answered_at > since,
        )
    )
    return session.scalars(query).one()
