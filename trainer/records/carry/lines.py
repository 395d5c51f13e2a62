"""
A row as one line of text, the same from both engines and under any version of the program, and back.

A line is a JSON list with the values in the order of the columns' names. Moments stand in UTC with microseconds, floats as
Python writes them (the shortest text that reads back as the same bits), bytes in base64. Keys inside a document keep
their order, which the program may show.
"""

from __future__ import annotations

import json
import math
from base64 import b64decode, b64encode
from collections.abc import Callable, Mapping, Sequence
from datetime import UTC, date, datetime
from operator import index
from typing import Any

from trainer.records.carry.errors import DamagedBackupError, UnreadableRowError
from trainer.records.carry.tables import Kind, Shape

__all__ = ["line_of", "row_of"]

#: Made once: there may be millions of rows.
_encode = json.JSONEncoder(separators=(",", ":"), check_circular=False).encode

EXACT = 2**53
"""Below it a float holds every whole number."""


def line_of(shape: Shape, row: Sequence[Any]) -> bytes:
    r"""
    Write a row.

    Args:
        shape: Its table.
        row: Its values, in the order of the shape's columns.

    Raises:
        UnreadableRowError: When a value is none that the column can hold.

    >>> line_of(Shape("site", {"edition": Kind.TEXT, "id": Kind.INTEGER, "share": Kind.NUMBER}), ["2023", 1, 0.1])
    b'["2023",1,0.1]\n'
    """
    values = []
    for (name, kind), value in zip(shape.columns.items(), row, strict=True):
        try:
            values.append(None if value is None else _WRITE[kind](value))
        except (TypeError, ValueError, AttributeError) as error:
            raise UnreadableRowError(
                shape.name, f"A row of {shape.name} holds {value!r:.60} as its {name}, which is no {kind.value}."
            ) from error
    return _encode(values).encode("ascii") + b"\n"


def row_of(shape: Shape, line: bytes) -> Mapping[str, Any]:
    """
    Read a row: its values by column.

    Raises:
        DamagedBackupError: When the line does not fit the table.
    """
    try:
        values = json.loads(line)
        return {
            name: None if value is None else _READ[kind](value)
            for (name, kind), value in zip(shape.columns.items(), values, strict=True)
        }
    except (TypeError, ValueError, AttributeError) as error:
        raise DamagedBackupError(f"A line of {shape.name} cannot be read: {line[:60]!r}.") from error


def _text(value: Any) -> str:
    if not isinstance(value, str):
        raise TypeError(value)
    return value


def _number(value: Any) -> float | str:
    number = value * 1.0
    return number if math.isfinite(number) else repr(number)


def _document(value: Any) -> Any:
    """
    A document; one that is a number alone, and a whole one, without the point.

    SQLite takes such a text for the number that it is, 12.0 for 12, and PostgreSQL keeps it: the value is the same.
    """
    return int(value) if isinstance(value, float) and value.is_integer() and abs(value) < EXACT else value


def _as_is(value: Any) -> Any:
    return value


_WRITE: Mapping[Kind, Callable[[Any], Any]] = {
    Kind.INTEGER: index,
    Kind.NUMBER: _number,
    Kind.TEXT: _text,
    Kind.YES_NO: bool,
    Kind.MOMENT: lambda moment: moment.astimezone(UTC).isoformat(timespec="microseconds"),
    Kind.DAY: lambda day: day.isoformat(),
    Kind.BYTES: lambda data: b64encode(data).decode("ascii"),
    Kind.DOCUMENT: _document,
}
_READ: Mapping[Kind, Callable[[Any], Any]] = {
    Kind.INTEGER: index,
    Kind.NUMBER: float,
    Kind.TEXT: _text,
    Kind.YES_NO: bool,
    Kind.MOMENT: datetime.fromisoformat,
    Kind.DAY: date.fromisoformat,
    Kind.BYTES: lambda text: b64decode(text, validate=True),
    Kind.DOCUMENT: _as_is,
}
