"""Lengths as people in the trade say them: read exactly, written to the nearest sixteenth of an inch."""

from __future__ import annotations

from fractions import Fraction
from math import gcd

from msgspec import Struct

from trainer.calc import units
from trainer.calc.message import Message
from trainer.calc.number import Refusal, Segment, segments

__all__ = ["Length", "nearest", "read_length", "write_length"]

_ACCEPTED = Message("length.accepted")
_EXAMPLE = "40-1/2 in"


class Length(Struct, frozen=True):
    """
    A length that was typed.

    Args:
        inches: The exact value.
        typed: The text as it was typed.
        unit_given: Whether a unit was typed; else the number was taken in the reader's bare unit.
        unit: Unit in which it was said ("ft" for feet and inches together).
    """

    inches: Fraction
    typed: str
    unit_given: bool
    unit: str = "in"


def read_length(text: str, bare_unit: str = "in") -> Length:
    r"""
    Read a length: feet and inches, inches with a fraction or decimals, millimetres, centimetres, metres.

    Args:
        text: As typed, at most 40 characters.
        bare_unit: Unit of a number without one.

    Raises:
        InputError: With the reason, when it is no length or could be taken for two.

    >>> read_length("3' 4-1/2\"").inches
    Fraction(81, 2)
    >>> float(read_length("1028 mm").inches)
    40.47244094488189
    """
    refusal = Refusal(text, _ACCEPTED, _EXAMPLE)
    parts = segments(text, refusal)
    if len(parts) == 1:
        return _one_unit(parts[0], bare_unit, refusal)
    if len(parts) == 2:
        return _feet_and_inches(parts[0], parts[1], refusal)
    raise refusal.because("number.not-understood")


def _one_unit(part: Segment, bare_unit: str, refusal: Refusal) -> Length:
    unit = _length_unit(part.unit, refusal) if part.unit else units.unit(bare_unit)
    return Length(part.number * unit.factor, refusal.given, bool(part.unit), unit.id)


def _feet_and_inches(feet: Segment, inches: Segment, refusal: Refusal) -> Length:
    """`3' 4-1/2"`; the inches may go without their mark."""
    if not feet.unit:
        raise refusal.because("number.not-understood")
    first = _length_unit(feet.unit, refusal).id
    second = _length_unit(inches.unit, refusal).id if inches.unit else "in"
    if (first, second) != ("ft", "in"):
        raise refusal.because("length.units-clash", first=feet.unit, second=inches.unit or "in")
    if not feet.whole:
        raise refusal.because("length.feet-not-whole")
    if inches.number >= 12:
        raise refusal.because("length.inches-over-eleven", inches=write_length(inches.number))
    return Length(12 * feet.number + inches.number, refusal.given, True, "ft")


def _length_unit(spelling: str, refusal: Refusal) -> units.Unit:
    unit = units.find_unit(spelling)
    if unit is None:
        raise refusal.because("number.unknown-unit", unit=spelling)
    if unit.quantity != "length":
        raise refusal.because("number.other-quantity", unit=spelling, quantity=unit.quantity, wanted="length")
    return unit


def nearest(inches: float | Fraction, denominator: int = 16) -> Fraction:
    """
    The nearest mark of a tape divided so finely; a half goes away from zero.

    >>> nearest(12.4)
    Fraction(99, 8)
    """
    return Fraction(_marks(inches, denominator), denominator)


def _marks(inches: float | Fraction, denominator: int) -> int:
    """The nearest mark as a count of marks; in whole numbers, as pages and questions write lengths by the thousand."""
    over, under = inches.as_integer_ratio()
    whole = (2 * denominator * abs(over) + under) // (2 * under)
    return whole if over >= 0 else -whole


def write_length(inches: float | Fraction, *, denominator: int = 16, feet: bool = False) -> str:
    """
    Write a length for people, to the nearest sixteenth of an inch.

    Args:
        inches: Any finite value; below zero too, as a difference may be.
        denominator: 16 for sixteenths, 8 for eighths.
        feet: Whether 12 inches and more are written with feet.

    >>> write_length(12.375), write_length(0.62), write_length(40.5, feet=True), write_length(-0.25)
    ('12-3/8 in', '5/8 in', '3 ft 4-1/2 in', '-1/4 in')
    """
    marks = _marks(inches, denominator)
    whole_feet, rest = divmod(abs(marks), 12 * denominator) if feet else (0, abs(marks))
    written = [f"{whole_feet} ft"] if whole_feet else []
    if rest or not whole_feet:
        written.append(f"{_mixed(rest, denominator)} in")
    return ("-" if marks < 0 else "") + " ".join(written)


def _mixed(marks: int, denominator: int) -> str:
    """`12-3/8`, `12` or `3/8`."""
    whole, part = divmod(marks, denominator)
    if not part:
        return str(whole)
    shared = gcd(part, denominator)
    fraction = f"{part // shared}/{denominator // shared}"
    return f"{whole}-{fraction}" if whole else fraction
