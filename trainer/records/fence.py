"""
Keep a server and the tables that it works with together: none works on others, and none are changed under it.

A server's connections hold a shared lock as long as they last, so that a migration is refused while any server runs; and
each new connection looks at the revision first, so that a server whose tables were changed meanwhile refuses to work. On
PostgreSQL the lock is an advisory one of the connection, which a pooler of transactions would lose: connect directly, or
through a pooler of sessions. On SQLite it is a lock on a file beside the database.
"""

from __future__ import annotations

import fcntl
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from weakref import finalize

from sqlalchemy import Connection, Engine, event, text

from trainer.records.revision import DatabaseVersionError, refuse_revision

__all__ = ["changed_by_nobody_else", "keep_to_own_tables"]

SERVING_LOCK = 7_316_226
"""Any number of ours: shared by the connections of all servers, held alone by whoever changes the tables."""

ENTER = f"SELECT pg_try_advisory_lock_shared({SERVING_LOCK})"
ALONE = f"SELECT pg_try_advisory_xact_lock({SERVING_LOCK})"
WHO = """
    SELECT DISTINCT coalesce(host(client_addr), 'this machine') FROM pg_locks JOIN pg_stat_activity USING (pid)
    WHERE locktype = 'advisory' AND classid = 0 AND objid = :number
    AND database = (SELECT oid FROM pg_database WHERE datname = current_database()) ORDER BY 1
"""
UNDER_WAY = "The database is being brought up to date by another process. Wait until it is done."


def keep_to_own_tables(engine: Engine) -> None:
    """Let the engine connect only to tables of this version, and hold off whoever wants to change them meanwhile."""
    if engine.dialect.name == "sqlite":
        _HeldFile(engine)
    else:
        event.listen(engine, "connect", _enter_postgresql)


@contextmanager
def changed_by_nobody_else(connection: Connection) -> Iterator[None]:
    """
    The tables are changed within this block, inside one transaction; servers that start meanwhile are held off.

    Raises:
        DatabaseVersionError: "served", while a server works with them.
    """
    if connection.dialect.name == "sqlite":
        with _alone_with(Path(str(connection.engine.url.database))):
            yield
        return
    if not connection.execute(text(ALONE)).scalar():
        places = ", ".join(connection.execute(text(WHO), {"number": SERVING_LOCK}).scalars())
        raise _served(f", connected from {places}" if places else "")
    yield


def _served(where: str) -> DatabaseVersionError:
    return DatabaseVersionError(
        "served",
        f"Servers of the site are running{where}, and the tables cannot be changed under them. Stop every one "
        "(systemctl stop trainer), run this again, then start them.",
    )


def _enter_postgresql(connection: Any, record: Any) -> None:
    del record
    try:
        with connection.cursor() as cursor:
            _refuse_while_changed(cursor.execute(ENTER).fetchone()[0])
            _look(cursor.execute("SELECT to_regclass('alembic_version') IS NOT NULL").fetchone()[0], cursor)
        connection.commit()
    except BaseException:
        connection.close()
        raise


def _refuse_while_changed(is_in: bool) -> None:
    if not is_in:
        raise DatabaseVersionError("changing", UNDER_WAY)


def _look(has_tables: bool, cursor: Any) -> None:
    row = cursor.execute("SELECT version_num FROM alembic_version").fetchone() if has_tables else None
    if row is None:
        raise DatabaseVersionError("empty", "The database is empty. Run: trainer init")
    refuse_revision(row[0])


class _HeldFile:
    """
    The file beside an SQLite database whose lock an engine's connections share until the engine is given up, be it by
    being forgotten.
    """

    def __init__(self, engine: Engine) -> None:
        self._path = _lock_file(Path(str(engine.url.database)))
        self._let_go: finalize[[int], _HeldFile] | None = None
        event.listen(engine, "connect", self._enter)
        event.listen(engine, "engine_disposed", self._leave)

    def _enter(self, connection: Any, record: Any) -> None:
        del record
        try:
            if self._let_go is None and (held := _locked(self._path, fcntl.LOCK_SH)) is not None:
                self._let_go = finalize(self, os.close, held)
            there = connection.execute("SELECT 1 FROM sqlite_master WHERE name = 'alembic_version'").fetchone()
            _look(there is not None, connection)
        except BaseException:
            connection.close()
            raise

    def _leave(self, engine: Engine) -> None:
        del engine
        if self._let_go is not None:
            self._let_go()
            self._let_go = None


def _lock_file(database: Path) -> Path:
    return database.with_name(f"{database.name}-serving")


@contextmanager
def _alone_with(database: Path) -> Iterator[None]:
    held = _locked(_lock_file(database), fcntl.LOCK_EX)
    if held is None:
        raise _served("")
    try:
        yield
    finally:
        os.close(held)


def _locked(path: Path, kind: int) -> int | None:
    """
    The descriptor of the open file with its lock; None where others hold it.

    Raises:
        DatabaseVersionError: "changing", when it was to be shared and somebody changes the tables.
        OSError: When the file cannot be made.
    """
    held = os.open(path, os.O_RDWR | os.O_CREAT | os.O_CLOEXEC, 0o666)
    try:
        fcntl.flock(held, kind | fcntl.LOCK_NB)
    except BlockingIOError:
        os.close(held)
        if kind == fcntl.LOCK_SH:
            raise DatabaseVersionError("changing", UNDER_WAY) from None
        return None
    return held
