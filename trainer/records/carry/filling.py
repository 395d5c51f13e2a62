"""Lines written into the tables of an empty database, inside the caller's transaction."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from itertools import islice

from sqlalchemy import URL, Connection, func, insert, select, text
from sqlalchemy.exc import DBAPIError, IntegrityError

from trainer.records.carry.errors import CarryError
from trainer.records.carry.lines import row_of
from trainer.records.carry.reading import batch_size
from trainer.records.carry.tables import Shape, as_table
from trainer.records.migrate import BrokenKeysError, whole_change

__all__ = ["fill", "filled_at_once", "set_sequences"]

WITHOUT_THEM = "`trainer restore --leave-out-orphans` puts a backup back without rows that point nowhere."


@contextmanager
def filled_at_once(url: str | URL) -> Iterator[tuple[Connection, Callable[[str], None]]]:
    """
    A transaction in which an empty database gets all of a site, or nothing: see `whole_change`.

    Raises:
        CarryError: When rows are left that point nowhere.
    """
    try:
        with whole_change(url) as change:
            yield change
    except BrokenKeysError as error:
        raise CarryError(
            "Some rows point to rows that are gone, and nothing was written. `trainer check` on the site that they come "
            f"from says which. {WITHOUT_THEM}"
        ) from error


def fill(connection: Connection, shape: Shape, lines: Iterable[bytes]) -> None:
    """
    Write all rows of a table, a batch at a time.

    Raises:
        CarryError: When the database refuses one.
    """
    table = as_table(shape)
    for batch in _batches(lines, batch_size(shape)):
        rows = [row_of(shape, line) for line in batch]
        try:
            connection.execute(insert(table), rows)
        except DBAPIError as error:
            reason = str(error.orig).strip().splitlines()[0]
            hint = f" {WITHOUT_THEM}" if isinstance(error, IntegrityError) else ""
            where = f"rows {rows[0]['id']} to {rows[-1]['id']} of {shape.name}"
            raise CarryError(
                f"The database refuses one of {where}: {reason}. Nothing was written. "
                f"`trainer check` on the site that it comes from says more.{hint}"
            ) from error


def _batches(lines: Iterable[bytes], size: int) -> Iterator[Sequence[bytes]]:
    rest = iter(lines)
    while batch := list(islice(rest, size)):
        yield batch


def set_sequences(connection: Connection, shapes: Iterable[Shape]) -> None:
    """Let PostgreSQL number new rows after those that are there. SQLite does so by itself."""
    if connection.dialect.name != "postgresql":
        return
    for shape in shapes:
        table = as_table(shape)
        highest = connection.scalar(select(func.max(table.c.id)))
        if highest is not None:
            follow = text("SELECT setval(pg_get_serial_sequence(:name, 'id'), :highest)")
            connection.execute(follow, {"name": f'"{shape.name}"', "highest": highest})
