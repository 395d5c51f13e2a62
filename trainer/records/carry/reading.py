"""Rows of a table in the order of their ids, as lines; how many they are, and their digest."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from hashlib import sha256

from msgspec import Struct
from sqlalchemy import Connection, select

from trainer.records.carry.errors import UnreadableRowError
from trainer.records.carry.lines import line_of
from trainer.records.carry.tables import Kind, Shape, as_table

__all__ = ["Tally", "batch_size", "lines_of", "tallied", "tally_of"]

BATCH, BATCH_WITH_BYTES = 1000, 8
"""Rows that are held at a time; of a table with photographs, each of up to 2 MB, few."""


class Tally(Struct):
    """How many rows a table has, and the SHA-256 of their lines: alike exactly where the rows are."""

    rows: int = 0
    digest: str = sha256().hexdigest()


def batch_size(shape: Shape) -> int:
    """How many rows of a table are held in memory at a time."""
    return BATCH_WITH_BYTES if Kind.BYTES in shape.columns.values() else BATCH


def lines_of(connection: Connection, shape: Shape) -> Iterator[bytes]:
    """
    All rows of a table as lines, in the order of their ids; a batch at a time is in memory.

    Raises:
        UnreadableRowError: When a row is damaged.
    """
    table = as_table(shape)
    query = select(*table.columns).order_by(table.c.id).execution_options(yield_per=batch_size(shape))
    try:
        with connection.execute(query) as rows:
            for row in rows:
                yield line_of(shape, row)
    except ValueError as error:
        # A text that is no date, or a document that is no JSON: the engine's own readers say so.
        raise UnreadableRowError(shape.name, f"A row of {shape.name} cannot be read: {error}.") from error


def tallied(lines: Iterable[bytes], tally: Tally) -> Iterator[bytes]:
    """Pass lines through; when the last one has passed, the tally is theirs."""
    rows, digest = 0, sha256()
    for line in lines:
        rows += 1
        digest.update(line)
        yield line
    tally.rows, tally.digest = rows, digest.hexdigest()


def tally_of(lines: Iterable[bytes]) -> Tally:
    """The tally of lines that are wanted for nothing else."""
    tally = Tally()
    for _ in tallied(lines, tally):
        pass
    return tally
