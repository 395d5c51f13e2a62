"""A site carried from one database into another, which need not be of the same kind, and proved to be the same there."""

from __future__ import annotations

from contextlib import closing

from msgspec import Struct
from sqlalchemy import URL, Connection, func, select

from trainer.records.carry.errors import CarryError
from trainer.records.carry.filling import fill, filled_at_once, set_sequences
from trainer.records.carry.reading import Tally, lines_of, tallied, tally_of
from trainer.records.carry.tables import Shape, as_table, shapes_of
from trainer.records.engine import Database, shown_url, sqlite_file
from trainer.records.migrate import check_version
from trainer.records.revision import DatabaseVersionError

__all__ = ["Copied", "copy_site"]


class Copied(Struct, frozen=True):
    """
    What was carried.

    Args:
        tables: What both sides have, by table.
        changed: Tables of the source that have got or lost rows since the copy was begun.
    """

    tables: dict[str, Tally]
    changed: tuple[str, ...]


def copy_site(source: str | URL, target: str | URL) -> Copied:
    """
    Copy all records in one snapshot, in one transaction: broken off, it leaves nothing and can be begun again.

    Each table is read back from the target by the reader that read it from the source, and both digests are compared
    before the copy is committed.

    Raises:
        CarryError: When the target has records already, or refuses one, or reads back otherwise.
        DatabaseVersionError: When the source is no site of this version of the program.
    """
    check_version(source)
    _refuse_filled(target)
    with closing(Database(source)) as database:
        with database.read() as session:
            connection = session.connection()
            shapes = shapes_of(connection)
            before = {shape.name: _extent(connection, shape) for shape in shapes}
            tables = _copy(connection, shapes, target)
        with database.read() as session:
            after = {shape.name: _extent(session.connection(), shape) for shape in shapes}
    return Copied(tables, tuple(name for name in before if before[name] != after[name]))


def _refuse_filled(target: str | URL) -> None:
    file = sqlite_file(target)
    if file is not None and not file.absolute().parent.is_dir():
        raise CarryError(f"There is no folder {file.absolute().parent}. Make it first.")
    try:
        check_version(target)
    except DatabaseVersionError as error:
        if error.state == "empty":
            return
    raise CarryError(
        f"There are records already in {shown_url(target)}. Name a new, empty database; nothing is ever written over."
    )


def _copy(source: Connection, shapes: list[Shape], target: str | URL) -> dict[str, Tally]:
    tables = {}
    with filled_at_once(target) as (connection, migrate):
        migrate("head")
        if {shape.name: shape for shape in shapes_of(connection)} != {shape.name: shape for shape in shapes}:
            raise CarryError("The site's tables were changed by hand: `trainer check` says where. Nothing was copied.")
        for shape in shapes:
            sent = tables[shape.name] = Tally()
            fill(connection, shape, tallied(lines_of(source, shape), sent))
            found = tally_of(lines_of(connection, shape))
            if found != sent:
                raise CarryError(
                    f"{shape.name} reads back otherwise: {sent.rows} rows were sent and {found.rows} found. "
                    "Nothing was copied."
                )
        set_sequences(connection, shapes)
    return tables


def _extent(connection: Connection, shape: Shape) -> tuple[int, int | None]:
    """How many rows there are, and the highest id: what any work in the site moves."""
    table = as_table(shape)
    rows, highest = connection.execute(select(func.count(), func.max(table.c.id)).select_from(table)).one()
    return rows, highest
