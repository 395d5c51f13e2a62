"""Cells and headings of the tables to look things up in, as text."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from trainer.calc.message import Message
from trainer.calc.reference_tables import Heading, ReferenceTable
from trainer.calc.step import write_number
from trainer.calc.temperature import fahrenheit
from trainer.text.formats import FORMATS
from trainer.text.sentences import english
from trainer.text.words import say

__all__ = ["heading_text", "is_number", "rows_text", "title_text"]

#: What stands where the trade has no figure.
NONE = "–"
WORDS = frozenset({"word", "size"})
#: Sizes from here on are in kcmil, those below in AWG.
FIRST_KCMIL = 250


def title_text(table: ReferenceTable, language: str = "en") -> str:
    """What a table shows."""
    return say(Message(f"table.{table.name}"), language)


def heading_text(heading: Heading, language: str = "en") -> str:
    """A heading."""
    return say(Message(f"column.{heading.name}"), language)


def is_number(heading: Heading) -> bool:
    """Whether a column's cells stand to the right."""
    return heading.format not in WORDS


def rows_text(table: ReferenceTable, language: str = "en") -> list[list[str]]:
    """All cells as text."""
    return [
        [_cell(value, heading.format, language) for value, heading in zip(row, table.headings, strict=True)]
        for row in table.rows
    ]


def _cell(value: Any, kind: str, language: str) -> str:
    if value is None:
        return NONE
    if kind == "word":
        named = f"table.word.{value}"
        return say(Message(named), language) if named in english() else str(value)
    return (OWN.get(kind) or FORMATS[kind])(value)


def _size(value: str) -> str:
    return f"{value} kcmil" if value.isdigit() and int(value) >= FIRST_KCMIL else f"#{value}"


#: Formats that only tables have; the unit of a bare number stands in the heading.
OWN: Mapping[str, Callable[[Any], str]] = {
    "size": _size,
    "amperes": lambda value: f"{value:,} A",
    "celsius": lambda value: f"{value:g} °C ({fahrenheit(value):g} °F)",
    "decimal": lambda value: write_number(value, 4),
    "bare": lambda value: write_number(value, 4 if value < 1 else 3),
    "count": lambda value: f"{value:,}",
}
