"""Values of the core as plain text, whatever they are: results, cells of tables, what two methods differ by."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from trainer.calc.message import Quantity
from trainer.calc.step import write_number
from trainer.text.formats import COUNTED, behind, quantity
from trainer.text.words import say

__all__ = ["cell_text", "exact_text", "plain_names", "residue_text", "value_text"]

#: Decimals in which two methods are compared.
PLACES = 4


#: How names of the core are spelled where people read them.
SPELLED = (("centre", "center"), ("neighbour", "neighbor"), ("_", " "))


def plain_names(text: str) -> str:
    """
    Names of quantities as people read them, in a formula too.

    >>> plain_names("shrink_to_centre"), plain_names("neighbour * mark_shift")
    ('shrink to center', 'neighbor * mark shift')
    """
    for name, spelled in SPELLED:
        text = text.replace(name, spelled)
    return text


def value_text(value: Any, unit: str, language: str = "en") -> str | list[str]:
    """
    An output as people write it; a list of sentences for several marks, cuts or fittings.

    >>> value_text(10.4527, "in"), value_text(True, ""), value_text((12.0, 40.5), "in")
    ('10-7/16 in', 'yes', '12 in, 40-1/2 in')
    """
    match value:
        case None:
            return "none"
        case bool():
            return "yes" if value else "no"
        case int() | float():
            return quantity(Quantity(value, unit), language)
        case tuple() if unit:
            return ", ".join(quantity(Quantity(part, unit), language) for part in value)
        case tuple():
            return [say(part.message(), language) for part in value]
    return str(value)


def exact_text(value: Any, unit: str, language: str = "en") -> str:
    """
    A value for comparing: a number to four decimals, a length too; anything else as it is.

    >>> exact_text(10.4527, "in"), exact_text(2.87963, ""), exact_text("10", ""), exact_text(90.0, "deg"), exact_text(1, "sticks")
    ('10.4527 in', '2.8796', '10', '90°', '1 stick')
    """
    if isinstance(value, bool) or not isinstance(value, int | float) or unit in COUNTED:
        text = value_text(value, unit, language)
        return text if isinstance(text, str) else " ".join(text)
    return f"{write_number(value, PLACES)}{behind(unit)}"


def residue_text(residue: float, unit: str) -> str:
    """
    What two methods differ by, with its sign; last bits are not told.

    >>> residue_text(-0.0271, "in"), residue_text(3e-15, "in"), residue_text(0.00003, "sq in"), residue_text(1, "sticks")
    ('-0.0271 in', '0', 'below 0.0001 sq in', '+1 sticks')
    """
    if abs(residue) < 1e-9:
        return "0"
    if abs(residue) < 0.5 * 10**-PLACES:
        return f"below 0.0001{behind(unit)}"
    sign = "+" if residue > 0 else ""
    return f"{sign}{write_number(residue, PLACES if abs(residue) < 100 else 1)}{behind(unit)}"


def cell_text(value: Any) -> str:
    """
    A cell of a table: a number to all its digits, lists with commas.

    >>> cell_text(6.5e-06), cell_text(4.0), cell_text(["4", "1-1/2"]), cell_text({"12": 2.25}), cell_text(None)
    ('0.0000065', '4', '4, 1-1/2', '12: 2.25', '')
    """
    match value:
        case None:
            return ""
        case bool():
            return "yes" if value else "no"
        case int() | float():
            return f"{Decimal(repr(value)):f}".removesuffix(".0")
        case Mapping():
            return ", ".join(f"{key}: {cell_text(part)}" for key, part in value.items())
        case list() | tuple():
            return ", ".join(map(cell_text, value))
    return str(value)
