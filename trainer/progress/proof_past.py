"""The runs of a skill that are decided, for its page: what each came to, and who sat there."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from msgspec import Struct
from sqlalchemy.orm import Session

from trainer.progress.points import Line
from trainer.progress.watching import watchers_of
from trainer.records import models

__all__ = ["PastRun", "past_runs"]


class PastRun(Struct, frozen=True):
    """A decided run: when, "ready", "not-yet" or "abandoned", its line, the answers that counted, and who sat there."""

    ended_at: datetime
    outcome: str
    line: Line
    counted: int
    watchers: tuple[str, ...]


def past_runs(session: Session, person_id: int, runs: Sequence[models.ProofRun]) -> tuple[PastRun, ...]:
    """
    Those of a person's runs that are decided, the newest first; a run in which no answer counted is left out.

    Args:
        session: Any session.
        person_id: Whose.
        runs: The person's runs in a skill, the first one first.
    """
    decided = [run for run in reversed(runs) if run.ended_at is not None and run.counted]
    watched = any(run.watched_by_id is not None for run in decided)
    watchers = watchers_of(session, [person_id]) if watched else {}
    return tuple(
        PastRun(run.ended_at, run.outcome or "", Line(run.line), run.counted, tuple(watchers.get(run.id, ())))
        for run in decided
        if run.ended_at is not None
    )
