"""A proof run: begun, asked, counted, decided, given up. All of it inside the transaction of what moves it."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.calc.message import Message
from trainer.library.shelf import Library
from trainer.progress.alarm import alarmed_families
from trainer.progress.difficulties import centred_difficulties
from trainer.progress.points import Line
from trainer.progress.proof import ProofState, qualifies, rule_of, runs_of, view_proof
from trainer.progress.proof_answer import end
from trainer.progress.proof_families import FEWEST_FAMILIES, askable, next_family
from trainer.progress.run_question import ask_in_run
from trainer.records import models
from trainer.records.locks import lock_person

__all__ = ["abandon", "begin", "next_question"]


def begin(
    session: Session,
    library: Library,
    person_id: int,
    skill: str,
    *,
    now: datetime,
    zone: ZoneInfo,
    line: Line = Line.STRICT,
    watched_by_id: int | None = None,
) -> str:
    """
    Begin a run, or go on with the one that is on its way.

    Args:
        session: A write session.
        library: The content.
        person_id: Whose run it is.
        skill: The skill.
        now: This moment.
        zone: In which the person's days are counted.
        line: How strict "ready" is meant.
        watched_by_id: Who sits beside the person and watches; None for nobody.

    Returns:
        Public id of the run.

    Raises:
        NotFoundError: When there is no such skill.
        NotAllowedError: When the run is not open yet; the message says what is missing first.
    """
    if not library.asks(skill):
        raise NotFoundError
    lock_person(session, person_id)
    watched = watched_by_id is not None
    view = view_proof(session, library, person_id, skill, now=now, zone=zone, line=line, watched=watched)
    if view.run:
        return view.run
    if view.state is not ProofState.OPEN:
        raise NotAllowedError(next(iter(view.waiting), Message("proof.not-now")))
    runs = runs_of(session, person_id, skill)
    rule = rule_of(runs, line, watched=watched)
    run = models.ProofRun(
        person_id=person_id,
        skill=skill,
        line=line.value,
        ready_at=rule.ready_at,
        refreshes=any(qualifies(run, line, watched=watched) for run in runs),
        difficulties=centred_difficulties(session, library, [skill]),
        points=0.0,
        counted=0,
        started_at=now,
        watched_by_id=watched_by_id,
    )
    session.add(run)
    session.flush()
    return run.public_id


def next_question(
    session: Session,
    library: Library,
    person_id: int,
    skill: str,
    *,
    now: datetime,
    zone: ZoneInfo,
    edition: str,
) -> str:
    """
    The next question of the run on its way, or the one that is still open.

    Returns:
        Public id of the problem.

    Raises:
        NotFoundError: When no run is on its way.
        NotAllowedError: When no more count today, or too few families are left to ask.
    """
    lock_person(session, person_id)
    run = _running(session, person_id, skill)
    asked = _asked(session, run)
    if asked and asked[-1].closed_at is None:
        return asked[-1].public_id
    view = view_proof(session, library, person_id, skill, now=now, zone=zone)
    if view.state is ProofState.TOMORROW:
        raise NotAllowedError(Message("proof.tomorrow"))
    families = askable(library, skill, alarmed_families(session, library, skill))
    if not families:
        raise NotAllowedError(Message("proof.few-families", {"families": 0, "fewest": FEWEST_FAMILIES}))
    family = next_family(families, [problem.family_id for problem in asked], run.public_id)
    return ask_in_run(session, person_id, family, now=now, edition=edition, context="proof", proof_run_id=run.id)


def abandon(session: Session, person_id: int, skill: str, now: datetime) -> None:
    """
    End the run on its way. With an answer in it, it counts as one that failed; an open question is closed unanswered.

    Raises:
        NotFoundError: When no run is on its way.
    """
    lock_person(session, person_id)
    run = _running(session, person_id, skill)
    for problem in _asked(session, run):
        if problem.closed_at is None:
            problem.closed_at = now
    end(run, "abandoned" if run.counted else "empty", now)
    session.flush()


def _running(session: Session, person_id: int, skill: str) -> models.ProofRun:
    run = next((run for run in runs_of(session, person_id, skill) if run.ended_at is None), None)
    if run is None:
        raise NotFoundError
    return run


def _asked(session: Session, run: models.ProofRun) -> list[models.Problem]:
    query = select(models.Problem).where(models.Problem.proof_run_id == run.id).order_by(models.Problem.id)
    return list(session.scalars(query))
