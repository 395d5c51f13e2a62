"""A proof run: begun, asked, counted, decided, given up. All of it inside the transaction of what moves it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from sqlalchemy.orm import Session

from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.calc.message import Message
from trainer.library.shelf import Library
from trainer.progress.alarm import alarmed_families
from trainer.progress.difficulties import centred_difficulties
from trainer.progress.points import Line
from trainer.progress.proof import ProofState, qualifies, rule_of, view_proof
from trainer.progress.proof_answer import end
from trainer.progress.proof_families import askable, next_family
from trainer.progress.proof_rows import questions_of, runs_of
from trainer.progress.run_question import ask_in_run
from trainer.progress.watching import Watcher, leave, sit_beside
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
    watcher: Watcher | None = None,
    valid: timedelta | None = None,
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
        watcher: Who sits beside the person, which opens a sitting and makes the run a watched one to its end; None for
            nobody. Who sits there already goes on with the same sitting.
        valid: How long what a run showed counts where it is asked; None where only fading ends it.

    Returns:
        Public id of the run.

    Raises:
        NotFoundError: When there is no such skill.
        NotAllowedError: When the run is not open yet, the message says what is missing first; or when it should be
            watched, and one that is not is on its way, or somebody else sits there already.
    """
    if not library.asks(skill):
        raise NotFoundError
    lock_person(session, person_id)
    runs = runs_of(session, person_id, skill)
    run = next((run for run in runs if run.ended_at is None), None)
    if watcher is None and run is not None:
        return run.public_id
    if run is not None and run.watched_by_id is None:
        raise NotAllowedError(Message("proof.unwatched-on-its-way"))
    watched = watcher is not None
    view = view_proof(session, library, person_id, skill, now=now, zone=zone, line=line, watched=watched, valid=valid)
    if view.waiting or view.state in {ProofState.TOMORROW, ProofState.READY}:
        closed = "proof.tomorrow" if view.state is ProofState.TOMORROW else "proof.not-now"
        raise NotAllowedError(next(iter(view.waiting), Message(closed)))
    if watcher is not None and view.beside is not None and view.beside.watcher_id != watcher.person_id:
        raise NotAllowedError(Message("proof.somebody-sits", {"watcher": view.beside.watcher}))
    if run is None:
        run = _new_run(session, library, person_id, skill, runs, line=line, watcher=watcher, now=now)
    if watcher is not None and view.beside is None:
        sit_beside(session, run.id, watcher, now)
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
) -> str | None:
    """
    The next question of the run on its way, or the one that is still open; where that one's key has come into doubt,
    another in its place.

    Returns:
        Public id of the problem; None where the run is a watched one and nobody sits there. A question that was left
        open is put aside then, to be put again with new numbers.

    Raises:
        NotFoundError: When no run is on its way.
        NotAllowedError: When no more count today, or too few families are left to ask.
    """
    lock_person(session, person_id)
    run = _running(session, person_id, skill)
    view = view_proof(session, library, person_id, skill, now=now, zone=zone)
    if view.in_sight and view.beside is None:
        leave(session, run.id, now)
        return None
    asked = questions_of(session, run)
    families = askable(library, skill, alarmed_families(session, library, skill))
    if asked and asked[-1].closed_at is None:
        if asked[-1].family_id in {family.id for family in families}:
            return asked[-1].public_id
        asked.pop().closed_at = now
    if view.waiting:
        raise NotAllowedError(view.waiting[0])
    if view.state is ProofState.TOMORROW:
        raise NotAllowedError(Message("proof.tomorrow"))
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
    leave(session, run.id, now)
    end(run, "abandoned" if run.counted else "empty", now)
    session.flush()


def _new_run(
    session: Session,
    library: Library,
    person_id: int,
    skill: str,
    runs: Sequence[models.ProofRun],
    *,
    line: Line,
    watcher: Watcher | None,
    now: datetime,
) -> models.ProofRun:
    """A run after these, begun now."""
    watched = watcher is not None
    run = models.ProofRun(
        person_id=person_id,
        skill=skill,
        line=line.value,
        ready_at=rule_of(runs, line, watched=watched).ready_at,
        refreshes=any(qualifies(run, line, watched=watched) for run in runs),
        difficulties=centred_difficulties(session, library, [skill]),
        points=0.0,
        counted=0,
        started_at=now,
        watched_by_id=watcher.person_id if watcher else None,
    )
    session.add(run)
    session.flush()
    return run


def _running(session: Session, person_id: int, skill: str) -> models.ProofRun:
    run = next((run for run in runs_of(session, person_id, skill) if run.ended_at is None), None)
    if run is None:
        raise NotFoundError
    return run
