"""What the engine itself can tell: pages that cannot be read, rows that point nowhere, tables that were changed by hand."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import closing

from sqlalchemy import (
    JSON,
    URL,
    Connection,
    ForeignKeyConstraint,
    Select,
    Table,
    Text,
    and_,
    exists,
    func,
    select,
    text,
    type_coerce,
)
from sqlalchemy.exc import DatabaseError

from trainer.records.carry.errors import UnreadableRowError
from trainer.records.carry.lines import line_of
from trainer.records.carry.reading import lines_of
from trainer.records.carry.tables import Shape, as_table, shapes_of
from trainer.records.checking.finding import PUT_BACK, Finding, listed
from trainer.records.engine import Database, database_url, sqlite_file
from trainer.records.migrate import check_version, differences
from trainer.records.models import Base
from trainer.records.revision import DatabaseVersionError

__all__ = ["any_broken_key", "broken_keys", "documents", "every_row", "schema", "structure", "unusable"]


def unusable(url: str | URL) -> Finding | None:
    """
    Why nothing in a database can be looked at, if so: it cannot be read, or its tables are of another version.

    Raises:
        DatabaseVersionError: When there is no site.
    """
    where = database_url(url).render_as_string(hide_password=True)
    try:
        check_version(url)
    except DatabaseVersionError as error:
        if error.state not in {"older", "newer"}:
            raise
        return Finding("The tables are not those of this version of the program.", where, str(error))
    except DatabaseError as error:
        if sqlite_file(url) is None:
            raise
        return Finding(f"The file cannot be read: {error.orig}.", where, PUT_BACK)
    return None


def structure(connection: Connection) -> Iterator[Finding]:
    """Pages, indexes and rows of an SQLite file that are not as SQLite wrote them. PostgreSQL looks at its own as it reads."""
    if connection.dialect.name != "sqlite":
        return
    where = str(sqlite_file(connection.engine.url))
    try:
        told = [str(line) for line in connection.execute(text("PRAGMA integrity_check(20)")).scalars()]
    except DatabaseError as error:
        told = [str(error.orig)]
    for line in told:
        if line != "ok":
            yield Finding(f"SQLite finds the file damaged: {' '.join(line.split())}.", where, PUT_BACK)


def schema(url: str | URL) -> Iterator[Finding]:
    """Tables, columns and indexes that are not those of the program."""
    if found := differences(url):
        yield Finding(
            f"The tables were changed by hand: {len(found)} things are not as the program made them.",
            "; ".join(_told(one) for one in found[:3]),
            "Make a backup and restore it into an empty database, which gets its tables from the program.",
        )


def _told(difference: object) -> str:
    """One of Alembic's differences, in a few words."""
    parts = difference[0] if isinstance(difference, list) else difference
    what, *subjects = parts if isinstance(parts, tuple) else (parts,)
    names = [getattr(one, "name", one) for one in subjects if one is not None]
    return " ".join([str(what).replace("_", " "), *(str(name) for name in names[:3])])


def broken_keys(connection: Connection) -> Iterator[Finding]:
    """Rows that point to rows which are gone."""
    for table in Base.metadata.sorted_tables:
        for key in sorted(table.foreign_key_constraints, key=lambda one: list(one.column_keys)):
            lost = connection.execute(_pointing_nowhere(table, key)).scalars().all()
            if lost:
                columns = " and ".join(key.column_keys)
                yield Finding(
                    f"{len(lost):,} rows of {table.name} point to rows of {key.referred_table.name} that are gone ({columns}).",
                    listed(table.name, lost),
                    PUT_BACK,
                )


def any_broken_key(url: str | URL) -> bool:
    """Whether a database of this version has rows that point nowhere, and so cannot be filled into another one."""
    with closing(Database(url)) as database, database.read() as session:
        return next(broken_keys(session.connection()), None) is not None


def _pointing_nowhere(table: Table, key: ForeignKeyConstraint) -> Select[tuple[int]]:
    parent = key.referred_table.alias("parent")
    pairs = [(element.parent, parent.c[element.column.name]) for element in key.elements]
    there = exists(select(parent.c.id).where(and_(*(own == other for own, other in pairs))))
    return select(table.c.id).where(*(own.is_not(None) for own, _ in pairs), ~there).order_by(table.c.id)


def documents(connection: Connection) -> Iterator[Finding]:
    """Documents that are no JSON; PostgreSQL lets none in."""
    if connection.dialect.name != "sqlite":
        return
    for table in Base.metadata.sorted_tables:
        for column in (column for column in table.columns if isinstance(column.type, JSON)):
            held = type_coerce(column, Text())
            query = select(table.c.id).where(held.is_not(None), func.json_valid(held) == 0).order_by(table.c.id)
            if lost := connection.execute(query).scalars().all():
                what = f"{len(lost):,} rows of {table.name} cannot be read ({column.name})."
                yield Finding(what, listed(table.name, lost), PUT_BACK)


def every_row(connection: Connection) -> Iterator[Finding]:
    """Rows that cannot be read, found by reading all of them."""
    for shape in shapes_of(connection):
        try:
            for _ in lines_of(connection, shape):
                pass
        except (UnreadableRowError, DatabaseError) as error:
            lost = list(_unreadable(connection, shape))
            yield Finding(
                f"{len(lost):,} rows of {shape.name} cannot be read: {error}", listed(shape.name, lost), PUT_BACK
            )


def _unreadable(connection: Connection, shape: Shape) -> Iterable[int]:
    table = as_table(shape)
    for row_id in connection.execute(select(table.c.id).order_by(table.c.id)).scalars().all():
        try:
            line_of(shape, connection.execute(select(*table.columns).where(table.c.id == row_id)).one())
        except (UnreadableRowError, DatabaseError, ValueError):
            yield row_id
