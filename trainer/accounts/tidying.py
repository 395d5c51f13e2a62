"""
What a site holds for a while only, and removing it when its time is over.

Answers, gradings, evidence and the notes that belong to them (`RECORD_KINDS`) are the record: nothing here reaches them.
What goes is what has ended (sign-ins, addresses for calendar programs), what was begun and never finished, counts of wrong
guesses that have leaked empty, and notes that are older than the site keeps them.

`tidy` takes the database, not a session: it removes some hundreds of rows in a transaction, so that a site that is in use
never waits for it, and rows that somebody holds at that moment stay for the next time.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime
from typing import Any

from msgspec import Struct
from sqlalchemy import ColumnElement, and_, delete, func, not_, select
from sqlalchemy.orm import Session

from trainer.accounts.audit import LOOKED_KINDS, RECORD_KINDS, begins_with, note
from trainer.accounts.keeping import Keeping
from trainer.accounts.sessions import is_long_over
from trainer.records.append_only import remove_lines
from trainer.records.engine import Database
from trainer.records.models import AuditLine, CalendarFeed, HalfSignIn, SecondFactor, SignInSession, Throttle

__all__ = ["Over", "Tidied", "look", "tidy", "what_is_over"]

AT_ONCE = 500
"""Rows that one transaction removes at most."""


class Over(Struct, frozen=True):
    """
    A kind of rows whose time is over.

    Args:
        kind: Its name, for the line in the audit log.
        model: Their table.
        which: Which of its rows.
    """

    kind: str
    model: type[Any]
    which: ColumnElement[bool]


class Tidied(Struct, frozen=True):
    """How many rows of a kind there were, or were removed."""

    kind: str
    table: str
    rows: int


def what_is_over(keeping: Keeping, now: datetime) -> Iterator[Over]:
    """The kinds of rows that go, as things stand at a moment."""
    ended = now - keeping.life.kept
    yield Over("sign-ins", SignInSession, is_long_over(now, keeping.life))
    yield Over("half-sign-ins", HalfSignIn, HalfSignIn.expires_at <= now)
    yield Over(
        "unfinished-apps", SecondFactor, and_(SecondFactor.confirmed_at.is_(None), SecondFactor.begun_at < ended)
    )
    yield Over("calendars", CalendarFeed, CalendarFeed.ended_at < ended)
    yield Over("guesses", Throttle, Throttle.expires_at <= now)
    looked = begins_with(LOOKED_KINDS)
    if keeping.looks is not None:
        yield Over("looks", AuditLine, and_(AuditLine.at < now - keeping.looks, looked))
    if keeping.log is not None:
        other = not_(begins_with((*LOOKED_KINDS, *RECORD_KINDS)))
        yield Over("notes", AuditLine, and_(AuditLine.at < now - keeping.log, other))


def look(session: Session, keeping: Keeping, now: datetime) -> list[Tidied]:
    """How many rows of each kind `tidy` would remove now."""
    return [
        _told(over, session.scalar(select(func.count(over.model.id)).where(over.which)) or 0)
        for over in what_is_over(keeping, now)
    ]


def tidy(database: Database, keeping: Keeping, now: datetime) -> list[Tidied]:
    """
    Remove what is over. Before that a line in the audit log says how much there is of what; where there is nothing, none.

    Args:
        database: The site's; servers may work with it meanwhile.
        keeping: How long the site keeps what passes.
        now: This moment.

    Returns:
        How many rows of each kind were removed.
    """
    with database.read() as session:
        found = {one.kind: one.rows for one in look(session, keeping, now) if one.rows}
    if found:
        with database.write() as session:
            note(session, what="site.tidied", now=now, detail=found)
    return [_told(over, _removed(database, over)) for over in what_is_over(keeping, now)]


def _told(over: Over, rows: int) -> Tidied:
    return Tidied(over.kind, str(over.model.__tablename__), rows)


def _removed(database: Database, over: Over) -> int:
    rows = 0
    for batch in _batches(database, over):
        with database.write() as session:
            rows += _remove(session, over, batch)
    return rows


def _batches(database: Database, over: Over) -> Iterator[Sequence[int]]:
    """Keys of rows that are over. Looked for in read sessions: on SQLite one that writes lets nobody else write."""
    last = 0
    while True:
        query = select(over.model.id).where(over.which, over.model.id > last).order_by(over.model.id).limit(AT_ONCE)
        with database.read() as session:
            batch = session.scalars(query).all()
        if not batch:
            return
        yield batch
        last = batch[-1]


def _remove(session: Session, over: Over, batch: Sequence[int]) -> int:
    """Remove those of a batch that are still over, but for what another transaction holds at this moment."""
    table = over.model
    still = select(table.id).where(table.id.in_(batch), over.which).with_for_update(skip_locked=True)
    which = table.id.in_(still)
    if table is AuditLine:
        return remove_lines(session, which)
    removal = delete(table).where(which).returning(table.id)
    return len(session.scalars(removal, execution_options={"synchronize_session": False}).all())
