"""
The database of a request: `reading()` and `writing()` open a session for one use case.

Use cases never commit; `writing()` does, when its block ends without an error. A view holds it for the one call and not
for the rendering: on SQLite it is the only write lock.
"""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager
from datetime import UTC, datetime

from flask import Flask, current_app
from sqlalchemy import Connection
from sqlalchemy.orm import Session

from trainer.records.engine import Database

__all__ = ["database", "glancing", "keep_records", "now", "reading", "utc_now", "writing"]


def utc_now() -> datetime:
    """The time of day and date in UTC."""
    return datetime.now(UTC)


def keep_records(app: Flask, records: Database, clock: Callable[[], datetime]) -> None:
    """Tie a database and a clock to the application."""
    app.extensions["trainer.database"] = records
    app.extensions["trainer.clock"] = clock


def database() -> Database:
    """The application's database."""
    found: Database = current_app.extensions["trainer.database"]
    return found


def reading() -> AbstractContextManager[Session]:
    """A session that sees one moment and cannot write."""
    return database().read()


def glancing() -> AbstractContextManager[Connection]:
    """A connection for one statement that reads, without a transaction around it."""
    return database().glance()


def writing() -> AbstractContextManager[Session]:
    """A session that is committed at the end of its block, and rolled back when an error leaves it."""
    return database().write()


def now() -> datetime:
    """The time in UTC, by the application's clock."""
    moment: datetime = current_app.extensions["trainer.clock"]()
    return moment
