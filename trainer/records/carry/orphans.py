"""Rows of a backup that point to rows which are not in it: a database takes them back only without them."""

from __future__ import annotations

import json
from collections.abc import Collection, Iterable, Iterator, Mapping
from typing import Any

from msgspec import Struct
from sqlalchemy import Connection, inspect

from trainer.records.carry.archive import Backup, TableEntry
from trainer.records.carry.tables import Shape

__all__ = ["orphans", "without"]

_Values = tuple[Any, ...]


class _Key(Struct, frozen=True):
    """Where columns of a table point: to which table, and to which of its columns."""

    columns: tuple[str, ...]
    parent: str
    parent_columns: tuple[str, ...]


def orphans(connection: Connection, backup: Backup) -> Mapping[str, frozenset[int]]:
    """
    Ids by table of the rows that point to no row of the backup, and of those that point to one of these, and so on.

    Args:
        connection: A database with the tables of the backup, which know what points where.
        backup: It is read as often as there are links in the longest chain of such rows.
    """
    keys = {table.name: _keys(connection, table.name) for table in backup.manifest.tables}
    there = _pointed_to(backup, {(key.parent, key.parent_columns) for found in keys.values() for key in found})
    lost: dict[str, set[int]] = {}
    while sum(_lose(backup, table, keys[table.name], there, lost) for table in backup.manifest.tables):
        pass
    return {name: frozenset(ids) for name, ids in lost.items()}


def without(lines: Iterable[bytes], shape: Shape, ids: Collection[int]) -> Iterator[bytes]:
    """The lines of a table but for the rows with these ids."""
    for line in lines:
        if not ids or _Row(shape, line).id not in ids:
            yield line


class _Row:
    """Some columns of a line."""

    def __init__(self, shape: Shape, line: bytes) -> None:
        self._held = dict(zip(shape.columns, json.loads(line), strict=True))

    @property
    def id(self) -> int:
        found: int = self._held["id"]
        return found

    def values(self, columns: Iterable[str]) -> _Values:
        return tuple(self._held[column] for column in columns)


def _keys(connection: Connection, table: str) -> list[_Key]:
    return [
        _Key(tuple(found["constrained_columns"]), found["referred_table"], tuple(found["referred_columns"]))
        for found in inspect(connection).get_foreign_keys(table)
    ]


def _pointed_to(
    backup: Backup, wanted: Collection[tuple[str, tuple[str, ...]]]
) -> dict[tuple[str, tuple[str, ...]], set[_Values]]:
    """What other rows may point to, by table and columns."""
    there: dict[tuple[str, tuple[str, ...]], set[_Values]] = {one: set() for one in wanted}
    for table in backup.manifest.tables:
        here = [columns for name, columns in wanted if name == table.name]
        for line in backup.lines(table) if here else ():
            row = _Row(table.shape, line)
            for columns in here:
                there[table.name, columns].add(row.values(columns))
    return there


def _lose(
    backup: Backup,
    table: TableEntry,
    keys: Iterable[_Key],
    there: dict[tuple[str, tuple[str, ...]], set[_Values]],
    lost: dict[str, set[int]],
) -> int:
    """Add the rows of a table that point nowhere to the lost ones, so that nothing points to them; how many there are."""
    gone = lost.get(table.name, set())
    found = [
        row
        for row in (_Row(table.shape, line) for line in (backup.lines(table) if keys else ()))
        if row.id not in gone and any(_points_nowhere(row, key, there) for key in keys)
    ]
    for row in found:
        lost.setdefault(table.name, set()).add(row.id)
        for (name, columns), values in there.items():
            if name == table.name:
                values.discard(row.values(columns))
    return len(found)


def _points_nowhere(row: _Row, key: _Key, there: Mapping[tuple[str, tuple[str, ...]], Collection[_Values]]) -> bool:
    values = row.values(key.columns)
    return None not in values and values not in there[key.parent, key.parent_columns]
