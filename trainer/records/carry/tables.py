"""
Tables as a database has them, whatever revision it is at: their columns and kinds, those that others point to first.

They are read from the database and not from the models, so that a site can be backed up before a newer version of the
program changes its tables, and a backup of an older version can be restored.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from typing import Any

from msgspec import Struct
from sqlalchemy import (
    JSON,
    BigInteger,
    Boolean,
    Column,
    Connection,
    Date,
    DateTime,
    Float,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    Text,
)
from sqlalchemy.types import TypeEngine

from trainer.records.types import UtcDateTime

__all__ = ["Kind", "Shape", "as_table", "shapes_of"]

ALEMBICS_OWN = "alembic_version"


class Kind(StrEnum):
    """What a column holds, the same on both engines."""

    INTEGER = "integer"
    NUMBER = "number"
    TEXT = "text"
    YES_NO = "yes-no"
    MOMENT = "moment"
    DAY = "day"
    BYTES = "bytes"
    DOCUMENT = "document"


#: The kind of each type that a database tells, and the type by which a column of the kind is read and written.
_KINDS: tuple[tuple[type[TypeEngine[Any]], Kind, TypeEngine[Any]], ...] = (
    (Boolean, Kind.YES_NO, Boolean(create_constraint=False)),
    (Integer, Kind.INTEGER, BigInteger()),
    (Float, Kind.NUMBER, Float(53)),
    (DateTime, Kind.MOMENT, UtcDateTime()),
    (Date, Kind.DAY, Date()),
    (JSON, Kind.DOCUMENT, JSON(none_as_null=True)),
    (LargeBinary, Kind.BYTES, LargeBinary()),
    (String, Kind.TEXT, Text()),
)
_TYPES: Mapping[Kind, TypeEngine[Any]] = {kind: used for _, kind, used in _KINDS}


class Shape(Struct, frozen=True):
    """
    One table.

    Args:
        name: Its name.
        columns: Kinds by column, in the order of the columns' names.
    """

    name: str
    columns: Mapping[str, Kind]


def shapes_of(connection: Connection) -> list[Shape]:
    """All tables of a database, each after those that it points to."""
    found = MetaData()
    found.reflect(connection)
    return [
        Shape(table.name, {column.name: _kind(column) for column in sorted(table.columns, key=lambda one: one.name)})
        for table in found.sorted_tables
        if table.name != ALEMBICS_OWN
    ]


def _kind(column: Column[Any]) -> Kind:
    for told, kind, _ in _KINDS:
        if isinstance(column.type, told):
            return kind
    raise TypeError(
        f"{column.table.name}.{column.name} has the type {column.type!r}, which no kind of column stands for"
    )


def as_table(shape: Shape) -> Table:
    """The table by which rows of this shape are read and written on either engine."""
    columns = [Column(name, _TYPES[kind], primary_key=name == "id") for name, kind in shape.columns.items()]
    return Table(shape.name, MetaData(), *columns)
