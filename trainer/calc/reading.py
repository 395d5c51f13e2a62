"""Numbers with or without a unit, angles and counts, as people type them."""

from __future__ import annotations

from msgspec import Struct

from trainer.calc import units
from trainer.calc.length import read_length
from trainer.calc.message import Message
from trainer.calc.number import Refusal, segments
from trainer.calc.temperature import read_temperature, read_temperature_change

__all__ = ["Reading", "read_count", "read_number"]

_EXAMPLES = {
    "angle": "22.5 deg",
    "share": "40%",
    "number": "2.6",
    "area": "0.304 sq in",
    "volume": "20.25 cu in",
    "current": "20 A",
    "voltage": "120 V",
    "line-weight": "1.2 lb/ft",
    "sidewall-pressure": "300 lbf/ft",
    "metal-area": "26240 cmil",
    "temperature": "30 C",
    "temperature-change": "100 F",
}


_TEMPERATURES = {"temperature": read_temperature, "temperature-change": read_temperature_change}


class Reading(Struct, frozen=True):
    """
    A number that was typed.

    Args:
        value: The number, in the unit that was asked for.
        typed: The text as it was typed.
        unit: The unit that was typed; the one asked for when none was.
        unit_given: Whether a unit was typed.
    """

    value: float
    typed: str
    unit: str
    unit_given: bool


def read_number(text: str, unit: str = "") -> Reading:
    """
    Read a number, with its unit or without.

    Args:
        text: As typed: "22.5°", "22 1/2 deg", "5/8", "40%"; lengths in every form of `read_length`.
        unit: Unit of the value, and of a number without one; "" for a plain number.

    Raises:
        InputError: When it is no number, is below zero, or its unit measures something else.

    >>> read_number("22 1/2 deg", "deg").value
    22.5
    """
    wanted = units.unit(unit)
    if wanted.quantity == "length":
        length = read_length(text, unit)
        return Reading(float(length.inches / wanted.factor), text, length.unit, length.unit_given)
    if wanted.quantity in _TEMPERATURES:
        return Reading(_TEMPERATURES[wanted.quantity](text), text, unit, True)
    refusal = _refusal(text, wanted)
    parts = segments(text, refusal)
    if len(parts) != 1:
        raise refusal.because("number.not-understood")
    typed = _unit_of(parts[0].unit, wanted, refusal)
    return Reading(float(parts[0].number * typed.factor / wanted.factor), text, typed.id, bool(parts[0].unit))


def read_count(text: str, unit: str = "count") -> Reading:
    """
    Read how many: a whole number, with or without the word for what is counted.

    Raises:
        InputError: When it is no whole number from 0, or other things are counted.

    >>> read_count("3 straps", "straps").value
    3.0
    """
    reading = read_number(text, unit)
    if not reading.value.is_integer():
        raise _refusal(text, units.unit(unit)).because("number.not-whole")
    return reading


def _refusal(text: str, wanted: units.Unit) -> Refusal:
    return Refusal(text, Message(f"number.accepted.{_kind(wanted)}"), _EXAMPLES.get(wanted.quantity, "3"))


def _kind(wanted: units.Unit) -> str:
    """Which sentence says what is accepted: for angles, areas, ... or for counts of anything."""
    return wanted.quantity if wanted.quantity in {*_EXAMPLES, "force"} else "count"


def _unit_of(spelling: str, wanted: units.Unit, refusal: Refusal) -> units.Unit:
    if not spelling:
        return wanted
    typed = units.find_unit(spelling, wanted.quantity)
    if typed is None:
        raise refusal.because("number.unknown-unit", unit=spelling)
    if typed.quantity != wanted.quantity:
        raise refusal.because("number.other-quantity", unit=spelling, quantity=typed.quantity, wanted=wanted.quantity)
    return typed
