"""
Bring a database to the tables of this version of the program, and say plainly when that is not possible.

Alembic is called from here; there is no command line of its own and no file of settings.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from io import StringIO
from pathlib import Path
from typing import Any

from alembic import command
from alembic.autogenerate import compare_metadata
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from alembic.util import CommandError
from sqlalchemy import URL, Connection, Engine, inspect, text

from trainer.records.engine import READ_ONLY, open_engine, sqlite_file
from trainer.records.fence import changed_by_nobody_else
from trainer.records.models import Base
from trainer.records.revision import DatabaseVersionError, refuse_revision
from trainer.records.types import UtcDateTime

__all__ = [
    "BrokenKeysError",
    "DatabaseVersionError",
    "check_version",
    "current",
    "differences",
    "downgrade",
    "head",
    "new_revision",
    "options",
    "revisions",
    "upgrade",
    "whole_change",
]

FOLDER = Path(__file__).parent / "migrations"
FILE_NAMES = "%%(year)d_%%(month).2d_%%(day).2d_%%(hour).2d%%(minute).2d_%%(rev)s_%%(slug)s"
PATIENCE = 120
"""How long a migration waits for another one, and for what is being written [s]."""

MIGRATION_LOCK = 7_316_225
"""Any number of ours: PostgreSQL lets one transaction at a time hold it, so two servers that start do not both migrate."""


class BrokenKeysError(RuntimeError):
    """Tables would be left with rows that point to rows which are not there; nothing was changed."""


def head() -> str:
    """The revision that this version of the program works with."""
    return str(_scripts().get_current_head())


def revisions() -> list[str]:
    """All revisions, the oldest first."""
    return [script.revision for script in _scripts().walk_revisions()][::-1]


def current(url: str | URL) -> str | None:
    """The revision of a database; None for one without tables of ours. A missing SQLite file is not made."""
    with _looked_into(url) as connection:
        return None if connection is None else _revision(connection)


def check_version(url: str | URL) -> None:
    """
    Make sure that the program and the database fit.

    Raises:
        DatabaseVersionError: When they do not; the sentence says what to do.
    """
    with _looked_into(url) as connection:
        found = None if connection is None else _revision(connection)
        if found is None:
            _refuse_without_revision(connection)
    if found is not None:
        refuse_revision(found)


def _refuse_without_revision(connection: Connection | None) -> None:
    if connection is None or not set(inspect(connection).get_table_names()) - {"alembic_version"}:
        raise DatabaseVersionError("empty", "The database is empty. Run: trainer init")
    raise DatabaseVersionError(
        "foreign", "The database holds tables of another program. Give this one a database of its own."
    )


def upgrade(url: str | URL, revision: str = "head") -> None:
    """
    Bring a database up to a revision, in one transaction: all of it or nothing. A missing SQLite file is made.

    Of several processes that want to at once, one does and the others wait, and find it done.

    Raises:
        DatabaseVersionError: When the database is newer than the program, or another program's, or when servers run
            that work with its tables as they are.
    """
    _refuse_what_cannot_be_migrated(url)
    with _migrating(url) as config:
        connection = config.attributes["connection"]
        wanted = head() if revision == "head" else revision
        if _revision(connection) != wanted:
            with changed_by_nobody_else(connection):
                command.upgrade(config, revision)


@contextmanager
def whole_change(url: str | URL) -> Iterator[tuple[Connection, Callable[[str], None]]]:
    """
    One transaction in which tables are made, filled and migrated: all of it stays, or nothing.

    Gives the connection, and what brings the tables up to a revision inside of the transaction. A missing SQLite file is
    made.
    """
    with _migrating(url) as config:
        yield config.attributes["connection"], partial(command.upgrade, config)


def downgrade(url: str | URL, revision: str) -> None:
    """Bring a database back to an older revision ("base": to none), in one transaction. For developers and tests."""
    with _migrating(url) as config, changed_by_nobody_else(config.attributes["connection"]):
        command.downgrade(config, revision)


def _refuse_what_cannot_be_migrated(url: str | URL) -> None:
    try:
        check_version(url)
    except DatabaseVersionError as error:
        if error.state not in {"empty", "older"}:
            raise


def new_revision(url: str | URL, what: str) -> Path:
    """
    Write a new migration from the difference between a database at head and the models. For developers.

    Args:
        url: A database at the present head.
        what: What the migration does, in a few words; becomes part of the file's name.

    Returns:
        The new file, to be read and mended by hand.
    """
    with _migrating(url) as config:
        script = command.revision(config, message=what, autogenerate=True)
    if script is None or isinstance(script, list):
        raise CommandError("no migration was written")
    return Path(script.path)


def differences(url: str | URL) -> list[Any]:
    """What would have to change in a database for its tables to be those of the models; as Alembic tells it."""
    engine = open_engine(url)
    try:
        with engine.connect() as connection:
            settings = {key: value for key, value in options(connection).items() if key != "target_metadata"}
            found: list[Any] = compare_metadata(MigrationContext.configure(connection, opts=settings), Base.metadata)
            return found
    finally:
        engine.dispose()


def options(connection: Connection) -> dict[str, Any]:
    """How Alembic is to look at this database."""
    return {
        "target_metadata": Base.metadata,
        "compare_type": True,
        "compare_server_default": True,
        "render_as_batch": connection.dialect.name == "sqlite",
        "render_item": _render_item,
    }


def _render_item(kind: str, item: object, context: object) -> str | bool:
    """Write our own column types as SQLAlchemy's: a migration imports nothing from the program."""
    del context
    return "sa.DateTime(timezone=True)" if kind == "type" and isinstance(item, UtcDateTime) else False


def _scripts() -> ScriptDirectory:
    return ScriptDirectory.from_config(_config())


def _config() -> Config:
    config = Config(stdout=StringIO())
    config.set_main_option("script_location", str(FOLDER).replace("%", "%%"))
    config.set_main_option("file_template", FILE_NAMES)
    return config


def _revision(connection: Connection) -> str | None:
    return MigrationContext.configure(connection).get_current_revision()


@contextmanager
def _looked_into(url: str | URL) -> Iterator[Connection | None]:
    """A connection for looking; None where there is no file yet."""
    file = sqlite_file(url)
    if file is not None and not file.exists():
        yield None
        return
    engine = open_engine(url)
    try:
        # Reading waits for no writer, which a migration under way is for long.
        with engine.connect().execution_options(**{READ_ONLY: True}) as connection:
            yield connection
    finally:
        engine.dispose()


@contextmanager
def _migrating(url: str | URL) -> Iterator[Config]:
    """Alembic's settings with a connection inside one transaction."""
    engine = open_engine(url)
    config = _config()
    try:
        with engine.connect() as connection:
            config.attributes["connection"] = connection
            with _changing_tables(engine, connection):
                yield config
    finally:
        engine.dispose()


@contextmanager
def _changing_tables(engine: Engine, connection: Connection) -> Iterator[None]:
    """
    One transaction in which tables may be rebuilt.

    SQLite changes a table by building it anew and dropping the old one; with foreign keys on, that would take the rows
    that point to it along. So they are off meanwhile, and looked at as a whole before the commit.
    """
    if engine.dialect.name != "sqlite":
        with connection.begin():
            connection.execute(text(f"SET LOCAL lock_timeout = '{PATIENCE}s'"))
            connection.execute(text("SELECT pg_advisory_xact_lock(:number)"), {"number": MIGRATION_LOCK})
            yield
        return
    raw: Any = connection.connection.driver_connection
    raw.execute("PRAGMA foreign_keys = OFF")
    raw.execute(f"PRAGMA busy_timeout = {PATIENCE * 1000}")
    with connection.begin():
        yield
        broken = connection.exec_driver_sql("PRAGMA foreign_key_check").fetchall()
        if broken:
            raise BrokenKeysError(f"the migration would leave rows that point nowhere: {broken[:5]}")
