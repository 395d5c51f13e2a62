"""
The functions that calculations and expressions may use. Angles are degrees, here and everywhere in the core.

Counts are rounded with a billionth of forgiveness: 240 in of tube at 120 in a strap is two stretches, whatever the
last bit of a float says.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from types import MappingProxyType

__all__ = [
    "FUNCTIONS",
    "acos",
    "asin",
    "atan",
    "cos",
    "cot",
    "csc",
    "pi",
    "round_down",
    "round_up",
    "sec",
    "sin",
    "sqrt",
    "tan",
]

pi = math.pi

_FORGIVEN = 1e-9


def sin(angle: float) -> float:
    """
    Sine of an angle in degrees.

    >>> round(sin(30), 12)
    0.5
    """
    return math.sin(math.radians(angle))


def cos(angle: float) -> float:
    """Cosine of an angle in degrees."""
    return math.cos(math.radians(angle))


def tan(angle: float) -> float:
    """Tangent of an angle in degrees."""
    return math.tan(math.radians(angle))


def csc(angle: float) -> float:
    """Cosecant, 1 / sin, of an angle in degrees; ZeroDivisionError at 0."""
    return 1 / sin(angle)


def sec(angle: float) -> float:
    """Secant, 1 / cos, of an angle in degrees."""
    return 1 / cos(angle)


def cot(angle: float) -> float:
    """Cotangent, 1 / tan, of an angle in degrees; ZeroDivisionError at 0."""
    return 1 / tan(angle)


def asin(ratio: float) -> float:
    """Angle in degrees, -90 to 90, whose sine is the ratio; ValueError beyond -1 to 1."""
    return math.degrees(math.asin(ratio))


def acos(ratio: float) -> float:
    """Angle in degrees, 0 to 180, whose cosine is the ratio; ValueError beyond -1 to 1."""
    return math.degrees(math.acos(ratio))


def atan(ratio: float) -> float:
    """Angle in degrees, -90 to 90, whose tangent is the ratio."""
    return math.degrees(math.atan(ratio))


def sqrt(value: float) -> float:
    """Square root; ValueError below 0."""
    return math.sqrt(value)


def round_up(value: float) -> int:
    """
    The next whole number up; a billionth above one is still that one.

    >>> round_up(2.0000000001), round_up(2.1)
    (2, 3)
    """
    return math.ceil(value - _FORGIVEN)


def round_down(value: float) -> int:
    """
    The next whole number down; a billionth below one is already that one.

    >>> round_down(1.9999999999), round_down(1.9)
    (2, 1)
    """
    return math.floor(value + _FORGIVEN)


#: Every function that an expression may call, by name.
FUNCTIONS: Mapping[str, Callable[..., float]] = MappingProxyType(
    {
        "abs": abs,
        "acos": acos,
        "asin": asin,
        "atan": atan,
        "cos": cos,
        "cot": cot,
        "csc": csc,
        "max": max,
        "min": min,
        "round_down": round_down,
        "round_up": round_up,
        "sec": sec,
        "sin": sin,
        "sqrt": sqrt,
        "tan": tan,
    }
)
