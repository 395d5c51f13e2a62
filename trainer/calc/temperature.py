"""
Temperatures and changes of temperature, as people type them: with F or C, and below zero where it is cold.

The two are kept apart: 86 F is 30 C, but a change of 90 F is one of 50 C.
"""

from __future__ import annotations

from fractions import Fraction

from trainer.calc.message import Message
from trainer.calc.number import LONGEST_TEXT, Refusal, segments

__all__ = ["fahrenheit", "read_rating", "read_temperature", "read_temperature_change"]

_MINUS = ("-", "−", "–")

_SCALES = {
    **dict.fromkeys(("c", "°c", "° c", "deg c", "degc", "degrees c", "celsius", "℃"), "C"),
    **dict.fromkeys(("f", "°f", "° f", "deg f", "degf", "degrees f", "fahrenheit", "℉"), "F"),
}


def read_temperature(text: str) -> float:
    """
    Read a temperature.

    Args:
        text: As typed, with F or C.

    Returns:
        The temperature [C].

    Raises:
        InputError: When it is no number with F or C after it.

    >>> read_temperature("86 F"), read_temperature("-40 F"), read_temperature("30°C")
    (30.0, -40.0, 30.0)
    """
    number, scale = _read(text, Refusal(text, Message("number.accepted.temperature"), "86 F"))
    return float(number if scale == "C" else (number - 32) * Fraction(5, 9))


def fahrenheit(celsius: float) -> float:
    """
    A temperature on the other scale [F].

    Args:
        celsius: The temperature [C].

    >>> fahrenheit(30.0), fahrenheit(-40.0)
    (86.0, -40.0)
    """
    return float(Fraction(celsius) * Fraction(9, 5) + 32)


def read_temperature_change(text: str) -> float:
    """
    Read a change of temperature; one with a minus is a cooling.

    Args:
        text: As typed, with F or C.

    Returns:
        The change [F].

    Raises:
        InputError: When it is no number with F or C after it.

    >>> read_temperature_change("100 F"), read_temperature_change("50 C")
    (100.0, 90.0)
    """
    number, scale = _read(text, Refusal(text, Message("number.accepted.temperature-change"), "100 F"))
    return float(number if scale == "F" else number * Fraction(9, 5))


def read_rating(text: str) -> float:
    """
    Read the temperature that a terminal is rated for; a bare number is C, as it is printed on equipment.

    Returns:
        The rating [C].

    Raises:
        InputError: When it is no number, alone or with F or C after it.

    >>> read_rating("75"), read_rating("167 F")
    (75.0, 75.0)
    """
    refusal = Refusal(text, Message("number.accepted.temperature"), "75 C")
    number, scale = _read(text, refusal, bare="C")
    return float(number if scale == "C" else (number - 32) * Fraction(5, 9))


def _read(text: str, refusal: Refusal, bare: str = "") -> tuple[Fraction, str]:
    """The number with its sign, and F or C."""
    if len(text) > LONGEST_TEXT:
        raise refusal.because("number.too-long", limit=LONGEST_TEXT)
    plain = text.strip()
    below_zero = plain[:1] in _MINUS
    parts = segments(plain[1:] if below_zero else plain.removeprefix("+"), refusal)
    if len(parts) != 1:
        raise refusal.because("number.not-understood")
    spelled = parts[0].unit
    if not spelled and not bare:
        raise refusal.because("temperature.which-scale")
    scale = _SCALES.get(spelled) if spelled else bare
    if scale is None:
        raise refusal.because("number.unknown-unit", unit=spelled)
    return (-parts[0].number if below_zero else parts[0].number), scale
