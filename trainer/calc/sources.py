"""
What stands in the tables, and how well: each fact with its source and how it was checked.

A group is one table of a file. Its `source` and `checked` hold for everything in it, unless a value or a row has its
own: `radius_checked` for `radius`, `checked` in a row.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache
from importlib.resources import files
from typing import Any

from msgspec import Struct

from trainer.calc.tables import table

__all__ = ["GRADES", "Fact", "Group", "facts", "group_of", "groups", "is_own_word", "table_names"]

#: How a fact may have been checked.
GRADES = ("two sources", "computed", "from memory")

_ABOUT = frozenset({"source", "checked", "columns", "sections", "tables", "agreement"})
_OF_A_VALUE = ("_checked", "_source")


class Group(Struct, frozen=True):
    """
    One table of a file.

    Args:
        file: The file's name without its ending.
        name: The table's name in it; one inside another with a dot, "dimensions.THHN".
        source: Where it comes from.
        checked: How it was checked; "" where each value or row says it for itself.
        values: What is in it by name, `rows` among them.
        columns: Names of the columns, where rows are lists.
        own: What is said of single values: "radius_checked", "ovality_source".
    """

    file: str
    name: str
    source: str
    checked: str
    values: Mapping[str, Any]
    columns: tuple[str, ...]
    own: Mapping[str, str]

    @property
    def path(self) -> tuple[str, ...]:
        """File and names, from the outside in."""
        return (self.file, *self.name.split("."))


class Fact(Struct, frozen=True):
    """
    A value, a row, or all of a group that has one source and one check.

    Args:
        group: Where it stands.
        item: Which value or row of it; "" for all that is not told apart.
        checked: How it was checked; "" where nothing says it, which the tests refuse.
        source: Where it comes from.
    """

    group: Group
    item: str
    checked: str
    source: str

    @property
    def is_doubtful(self) -> bool:
        """Whether no second place was found for it."""
        return self.checked == "from memory" or self.source.startswith("common practice")


def table_names() -> tuple[str, ...]:
    """Every table file, without its ending."""
    found = (file.name for file in files("trainer.calc.tables").iterdir())
    return tuple(sorted(name.removesuffix(".toml") for name in found if name.endswith(".toml")))


@cache
def groups() -> tuple[Group, ...]:
    """Every group of every table file."""
    return tuple(group for name in table_names() for group in _by_path(name).values())


def group_of(path: tuple[str, ...]) -> Group:
    """The group of this path, for which no file but its own is read; KeyError when there is none."""
    try:
        return _by_path(path[0])[path]
    except FileNotFoundError:
        raise KeyError(path) from None


@cache
def facts() -> tuple[Fact, ...]:
    """Every fact of every table file."""
    return tuple(fact for group in groups() for fact in _facts_of(group))


def is_own_word(key: str) -> bool:
    """Whether a key says something about the values beside it and is none itself."""
    return key in _ABOUT or key.endswith(_OF_A_VALUE)


@cache
def _by_path(name: str) -> Mapping[tuple[str, ...], Group]:
    """The groups of a table file."""
    return {group.path: group for group in _in_file(name)}


def _in_file(name: str) -> Iterator[Group]:
    content = table(name)
    for key, value in content.items():
        if isinstance(value, list):  # An array of tables is a group with rows.
            yield from _group(name, key, {"rows": value}, content)
        elif isinstance(value, dict):
            yield from _group(name, key, value, content)


def _group(file: str, name: str, content: Mapping[str, Any], outer: Mapping[str, Any]) -> Iterator[Group]:
    said = {key: content.get(key, outer.get(key, "")) for key in ("source", "checked", "columns")}
    inner = {key: value for key, value in content.items() if isinstance(value, dict) and _is_group(value)}
    values = {key: value for key, value in content.items() if not is_own_word(key) and key not in inner}
    if values:
        own = {key: value for key, value in content.items() if key.endswith(_OF_A_VALUE)}
        yield Group(file, name, said["source"], said["checked"], values, tuple(said["columns"]), own)
    for key, value in inner.items():
        yield from _group(file, f"{name}.{key}", value, said)


def _is_group(value: Mapping[str, Any]) -> bool:
    """A table inside another that says its own source, or has rows; others are plain values by name."""
    return bool({"source", "checked", "rows"} & value.keys())


def _facts_of(group: Group) -> Iterator[Fact]:
    rows = [row for row in group.values.get("rows", ()) if isinstance(row, dict)]
    said_by_rows = bool(rows) and all("checked" in row for row in rows)
    names = sorted({key.rpartition("_")[0] for key in group.own})
    if group.checked or not (said_by_rows or names):
        yield Fact(group, "", group.checked, group.source)
    for name in names:
        checked = group.own.get(f"{name}_checked", group.checked)
        yield Fact(group, name, checked, group.own.get(f"{name}_source", group.source))
    for row in rows:
        if "checked" in row:
            yield Fact(group, _label(row), row["checked"], row.get("source", group.source))


def _label(row: Mapping[str, Any]) -> str:
    """What tells a row from the others: its first value."""
    name, value = next(iter(row.items()))
    return f"{name} {value:g}" if isinstance(value, float) else f"{name} {value}"
