"""
The table rows that a result rests on: of every group that the calculation names, the rows that these inputs lead to.

A row is led to by its first column: a size, a type or an angle that is among the inputs or results, or the first
number that an input does not exceed. `tests/calc/test_evidence_rows.py` changes all other rows and finds the same
result.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from inspect import Parameter, signature
from typing import Any

from msgspec import Struct
from msgspec.structs import fields

from trainer.calc.calculation import Calculation
from trainer.calc.conductors import is_smaller
from trainer.calc.evidence_check import Values
from trainer.calc.raceways import KINDS
from trainer.calc.sources import Group
from trainer.calc.sources_used import groups_used

__all__ = ["Used", "rows_used"]

#: Groups whose rows hold up to a number or a size, and the input that is looked up in them.
_UP_TO = {
    ("ampacity", "ambient"): "ambient",
    ("ampacity", "bundling"): "current_carrying",
    ("grounding", "least"): "overcurrent_device",
    ("pull_boxes", "back"): "conductor_size",
}

Row = Sequence[Any]


class Used(Struct, frozen=True):
    """
    What of a group was used.

    Args:
        group: The group.
        columns: Names of the columns; () for values by name.
        rows: The rows, or each value with its name before it.
        checked: How each row was checked.
    """

    group: Group
    columns: tuple[str, ...]
    rows: tuple[tuple[Any, ...], ...]
    checked: tuple[str, ...]


def rows_used(calculation: Calculation, values: Values, result: Any) -> tuple[Used, ...]:
    """What the tables gave to this result; groups that gave nothing are left out."""
    values = {**_left_out(calculation), **values}
    angles = {value for name, value in values.items() if calculation.input(name).unit == "deg"}
    named = frozenset(_texts((values, result))) | {angle for angle in angles if isinstance(angle, int | float)}
    not_chosen = _not_chosen(calculation, values)
    used = (_of_group(group, values, named, not_chosen) for group in groups_used(calculation))
    return tuple(each for each in used if each.rows)


def _of_group(group: Group, values: Values, named: frozenset[Any], not_chosen: frozenset[str]) -> Used:
    if not _is_meant(group, values, named):
        return Used(group, (), (), ())
    rows = group.values.get("rows")
    if rows is None:
        pairs = tuple(_pairs(group, named, not_chosen))
        return Used(group, (), pairs, tuple(group.own.get(f"{name}_checked", group.checked) for name, _ in pairs))
    tables = [row for row in rows if isinstance(row, dict)]
    columns = _columns(group, tables)
    cells = [tuple(row.get(column) for column in columns) if isinstance(row, dict) else tuple(row) for row in rows]
    chosen = list(_chosen(group, cells, values, named))
    usual = _said(group, named)
    said = [row.get("checked", usual) for row in tables] or [usual] * len(rows)
    return Used(group, columns, tuple(cells[at] for at in chosen), tuple(said[at] for at in chosen))


def _said(group: Group, named: frozenset[Any]) -> str:
    """How a row was checked that does not say it: as its type says, as the group says, or column by column."""
    own = {key.removesuffix("_checked"): said for key, said in group.own.items() if key.endswith("_checked")}
    of_type = next((said for name, said in own.items() if name in named), "")
    return of_type or group.checked or ", ".join(f"{name}: {said}" for name, said in own.items())


def _pairs(group: Group, named: frozenset[Any], not_chosen: frozenset[str]) -> Iterator[tuple[str, Any]]:
    """Values by name, without those of a material that was not chosen and sizes that are not there."""
    for name, value in group.values.items():
        if isinstance(value, Mapping) and named & value.keys():
            there: Any = {key: part for key, part in value.items() if key in named}
        elif isinstance(value, list) and value and isinstance(value[0], str):
            there = [part for part in value if part in named]
        else:
            there = value
        if name not in not_chosen and there != []:
            yield name, there


def _not_chosen(calculation: Calculation, values: Values) -> frozenset[str]:
    """Choices that were not made, such as aluminum where copper was."""
    left = (choice for given in calculation.inputs for choice in given.choices if values.get(given.name) != choice)
    return frozenset(left) - frozenset(_texts(values))


def _is_meant(group: Group, values: Values, named: frozenset[Any]) -> bool:
    """Whether it is the raceway that is asked for, and a type of conductor that is there."""
    if group.file == "raceway" and group.name in KINDS:
        return group.name == (values.get("raceway") or KINDS[0])
    types = group.values.get("types")
    return types is None or bool(named & set(types))


def _columns(group: Group, tables: Sequence[Mapping[str, Any]]) -> tuple[str, ...]:
    names = dict.fromkeys(name for row in tables for name in row if name != "checked")
    return tuple(names) or tuple(group.columns)


def _chosen(group: Group, rows: Sequence[Row], values: Values, named: frozenset[Any]) -> Iterable[int]:
    """Places of the rows that are led to."""
    if group.path in _UP_TO:
        asked = values[_UP_TO[group.path]]
        return next(([at] for at, row in enumerate(rows) if asked is not None and _reaches(row[0], asked)), [])
    return [at for at, row in enumerate(rows) if _key(row) in named]


def _key(row: Row) -> Any:
    """What a row is found by: its first cell; a box by shape and size, as it is called."""
    return f"{' x '.join(row[1])} {row[0]}" if isinstance(row[1], list) else row[0]


def _reaches(up_to: Any, asked: Any) -> bool:
    return not is_smaller(up_to, than=asked) if isinstance(asked, str) else bool(asked <= up_to + 1e-9)


def _left_out(calculation: Calculation) -> dict[str, Any]:
    """What the function takes for inputs that are left out, the usual shoe among them."""
    taken = signature(calculation.function).parameters.values()
    return {each.name: each.default for each in taken if each.default is not Parameter.empty}


def _texts(value: Any) -> Iterator[str]:
    """Every text in inputs and results, whatever it is in; of `FD, 2 gang` what it is a kind of, too."""
    if isinstance(value, str):
        yield from (value, value.partition(",")[0])
    elif isinstance(value, Mapping):
        yield from _texts(tuple(value.values()))
    elif isinstance(value, tuple):
        for part in value:
            yield from _texts(part)
    elif isinstance(value, Struct):
        yield from _texts(tuple(getattr(value, part.name) for part in fields(value)))
