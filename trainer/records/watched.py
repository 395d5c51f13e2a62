"""What a database does, told to whoever counts: how long its statements took, and the verdict of each answer on record."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from typing import Any

from sqlalchemy import event
from sqlalchemy.orm import Session

from trainer.records.engine import Database
from trainer.records.models import Grading

__all__ = ["watch"]

GRADED = "trainer_graded"


def watch(database: Database, *, took: Callable[[float], None], graded: Callable[[str], None]) -> None:
    """
    Tell what a database does from now on.

    Args:
        database: The one to watch.
        took: Called with the duration of each statement and each commit [s].
        graded: Called with the verdict of each new answer, once it is committed. A later ruling is no answer.
    """
    _Timed(took).listen(database)
    _Graded(graded).listen(database)


class _Timed(threading.local):
    """Times statements and commits, of each thread for itself."""

    def __init__(self, took: Callable[[float], None]) -> None:
        self._took = took
        self._began: float | None = None

    def listen(self, database: Database) -> None:
        event.listen(database.engine, "before_cursor_execute", self._begin)
        event.listen(database.engine, "after_cursor_execute", self._end)
        event.listen(database.engine, "commit", self._begin)
        event.listen(database.writers, "after_commit", self._end)

    def _begin(self, *_: Any) -> None:
        self._began = time.perf_counter()

    def _end(self, *_: Any) -> None:
        # None after a transaction in which nothing was asked.
        if self._began is not None:
            self._took(time.perf_counter() - self._began)
            self._began = None


class _Graded:
    """Notes the verdicts of a transaction, and tells them when it is committed."""

    def __init__(self, graded: Callable[[str], None]) -> None:
        self._graded = graded

    def listen(self, database: Database) -> None:
        event.listen(database.writers, "after_flush", self._note)
        event.listen(database.writers, "after_commit", self._tell)
        event.listen(database.writers, "after_rollback", self._forget)

    def _note(self, session: Session, *_: Any) -> None:
        new = [row.verdict for row in session.new if isinstance(row, Grading) and row.sequence == 1]
        session.info.setdefault(GRADED, []).extend(new)

    def _tell(self, session: Session) -> None:
        for verdict in session.info.pop(GRADED, []):
            self._graded(verdict)

    def _forget(self, session: Session) -> None:
        session.info.pop(GRADED, None)
