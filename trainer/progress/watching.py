"""
Who sits beside a person at a watched run, and when.

A run that a watcher opened is a watched one to its end. Its questions are asked and its answers taken only while somebody
sits there: an answer that nobody watches counts nowhere. A question that a sitting left open is put again in the next one,
of the same family with new numbers, so that nothing is gained by thinking it over, and nothing skipped.
"""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime, timedelta

from msgspec import Struct
from sqlalchemy import ColumnElement, Select, func, select, update
from sqlalchemy.orm import Session

from trainer.records import models

__all__ = [
    "SITTING_LASTS",
    "BesideLine",
    "Watcher",
    "beside",
    "leave",
    "nobody_watches",
    "sit_beside",
    "sittings_on_way",
    "watchers_of",
]

SITTING_LASTS = timedelta(hours=1)
"""How long somebody is taken to sit there who does not say when he leaves: eight questions take less."""


class Watcher(Struct, frozen=True):
    """Who watches, and the class or crew as whose leader."""

    person_id: int
    group_id: int


class BesideLine(Struct, frozen=True):
    """Who sits beside a person at a run: public id of the run, key and name, since when, and until when at the latest."""

    run: str
    watcher_id: int
    watcher: str
    opened_at: datetime
    ends_at: datetime


def sit_beside(session: Session, run_id: int, watcher: Watcher, now: datetime) -> None:
    """
    Open a sitting of a watched run; one that is open still ends with that.

    Args:
        session: A write session; the person whose run it is is locked.
        run_id: The run.
        watcher: Who sits there.
        now: This moment.
    """
    leave(session, run_id, now)
    who = {"watcher_id": watcher.person_id, "group_id": watcher.group_id}
    session.add(models.ProofSitting(run_id=run_id, **who, opened_at=now, ends_at=now + SITTING_LASTS))
    session.flush()


def leave(session: Session, run_id: int, now: datetime) -> None:
    """End the sitting that is open, and put the question aside that it leaves open. Nothing where none is."""
    sitting, problem = models.ProofSitting, models.Problem
    ended = update(sitting).where(sitting.run_id == run_id, sitting.ended_at.is_(None))
    session.execute(ended.values(ended_at=now))
    session.execute(
        update(problem).where(problem.proof_run_id == run_id, problem.closed_at.is_(None)).values(closed_at=now)
    )


def beside(session: Session, run_id: int, now: datetime) -> BesideLine | None:
    """Who sits beside the person at this moment; None where nobody does."""
    return next(map(_line, session.execute(_open(now).where(models.ProofRun.id == run_id))), None)


def sittings_on_way(session: Session, people: Collection[int], now: datetime) -> dict[str, BesideLine]:
    """Who sits beside these people at this moment, by public id of the run. One query."""
    found = session.execute(_open(now).where(models.ProofRun.person_id.in_(people)))
    return {line.run: line for line in map(_line, found)}


def watchers_of(session: Session, people: Collection[int]) -> dict[int, list[str]]:
    """Who sat beside these people, by key of the run, each name once and the first one first. One query."""
    run, sitting, watcher = models.ProofRun, models.ProofSitting, models.Person
    query = (
        select(run.id, watcher.display_name)
        .outerjoin(sitting, sitting.run_id == run.id)
        .join(watcher, watcher.id == func.coalesce(sitting.watcher_id, run.watched_by_id))
        .where(run.person_id.in_(people))
        .order_by(run.id, sitting.id)
    )
    found: dict[int, list[str]] = {}
    for key, name in session.execute(query):
        names = found.setdefault(key, [])
        if name not in names:
            names.append(name)
    return found


def nobody_watches(session: Session, problem_public_id: str, now: datetime) -> bool:
    """Whether a problem is a question of a watched run, and nobody sits there now."""
    run, problem = models.ProofRun, models.Problem
    query = select(run.id).join(problem, problem.proof_run_id == run.id).where(problem.public_id == problem_public_id)
    return session.scalar(query.where(run.watched_by_id.is_not(None), ~_attended(now).exists())) is not None


def _attended(now: datetime) -> Select[int]:
    """A sitting, open at this moment, of the run of the query around."""
    sitting = models.ProofSitting
    return select(sitting.id).where(sitting.run_id == models.ProofRun.id, *_open_at(now)).correlate(models.ProofRun)


def _open(now: datetime) -> Select[str, int, str, datetime, datetime]:
    sitting, run, watcher = models.ProofSitting, models.ProofRun, models.Person
    return (
        select(run.public_id, watcher.id, watcher.display_name, sitting.opened_at, sitting.ends_at)
        .join(run, run.id == sitting.run_id)
        .join(watcher, watcher.id == sitting.watcher_id)
        .where(run.ended_at.is_(None), *_open_at(now))
    )


def _open_at(now: datetime) -> tuple[ColumnElement[bool], ...]:
    sitting = models.ProofSitting
    return sitting.ended_at.is_(None), sitting.opened_at <= now, sitting.ends_at > now


def _line(found: tuple[str, int, str, datetime, datetime]) -> BesideLine:
    return BesideLine(*found)
