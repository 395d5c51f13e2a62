"""The rows of proof runs, read: runs, what counted today and on which days, practice since then."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from sqlalchemy import ColumnElement, Select, exists, func, select
from sqlalchemy.orm import Session

from trainer.records import models

__all__ = [
    "counted_days",
    "counted_today",
    "practised_since",
    "questions_in_doubt",
    "questions_of",
    "runs_of",
    "states_and_shown",
]


def runs_of(session: Session, person_id: int, skill: str) -> list[models.ProofRun]:
    """A person's runs in a skill, the first one first."""
    table = models.ProofRun
    query = select(table).where(table.skill == skill, table.person_id == person_id).order_by(table.id)
    return list(session.scalars(query))


def questions_of(session: Session, run: models.ProofRun) -> list[models.Problem]:
    """The questions of a run in their order: those that an answer decided, and the one that is open."""
    table = models.Problem
    query = select(table).where(table.proof_run_id == run.id, table.closed_at.is_(None) | _decided())
    return list(session.scalars(query.order_by(table.id)))


def states_and_shown(session: Session, person_id: int) -> tuple[dict[str, models.SkillState], dict[str, datetime]]:
    """
    A person's rows by skill, and of the skills that a run ever found ready, when the last one did. One query.

    A run's questions are turns of their skill, so that there is no run without a row.
    """
    run, state = models.ProofRun, models.SkillState
    ready = (
        select(run.skill, func.max(run.ended_at).label("ended_at"))
        .where(run.person_id == person_id, run.outcome == "ready")
        .group_by(run.skill)
        .subquery()
    )
    query = select(state, ready.c.ended_at).outerjoin(ready, ready.c.skill == state.skill)
    rows = session.execute(query.where(state.person_id == person_id)).all()
    return {row.skill: row for row, _ in rows}, {row.skill: at for row, at in rows if at is not None}


def counted_today(session: Session, person_id: int, skill: str, *, now: datetime, zone: ZoneInfo) -> int:
    """Questions of runs in this skill that an answer decided today, and that count."""
    start = now.astimezone(zone).replace(hour=0, minute=0, second=0, microsecond=0)
    table = models.Problem
    query = select(func.count()).where(
        table.person_id == person_id,
        table.skill == skill,
        table.proof_run_id.is_not(None),
        table.closed_at >= start,
        _decided(),
        ~_in_doubt(),
    )
    return session.scalars(query).one()


def counted_days(session: Session, run_id: int, zone: ZoneInfo) -> set[str]:
    """The days on which answers decided questions of a run that count."""
    query: Select[datetime | None] = select(models.Problem.closed_at).where(
        models.Problem.proof_run_id == run_id, models.Problem.closed_at.is_not(None), _decided(), ~_in_doubt()
    )
    return {f"{closed.astimezone(zone):%Y-%m-%d}" for closed in session.scalars(query) if closed is not None}


def questions_in_doubt(session: Session, run_id: int) -> set[int]:
    """Ids of the questions of a run whose key was in doubt when they were closed, so that they count for nothing."""
    query = select(models.Problem.id).where(models.Problem.proof_run_id == run_id, _in_doubt())
    return set(session.scalars(query))


def practised_since(session: Session, person_id: int, skill: str, since: datetime) -> int:
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


def _decided() -> ColumnElement[bool]:
    """That an answer closed the problem of the query around: a question put aside is closed by none."""
    answer, problem = models.Answer, models.Problem
    return exists().where(answer.problem_id == problem.id, answer.answered_at == problem.closed_at)


def _in_doubt() -> ColumnElement[bool]:
    """That the key of the problem of the query around was in doubt when it was closed, were it by its own answer."""
    problem, family, version = models.Problem, models.FamilyDifficulty, models.ContentVersion
    alarmed = (version.rules_hash == family.rules_hash, family.alarmed_at <= problem.closed_at)
    return exists().where(version.id == problem.content_version_id, *alarmed)
