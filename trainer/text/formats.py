"""
Values as people in the trade write them, by named formats: for question prose, worked steps and pages.

Numbers come in the core's units: inches, degrees, counts. Rounding happens here and nowhere below.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from functools import lru_cache
from types import MappingProxyType

from trainer.calc.length import write_length
from trainer.calc.message import Quantity
from trainer.calc.step import write_number
from trainer.calc.units import UNITS
from trainer.text.translations import counted_sentence

__all__ = ["COUNTED", "FORMATS", "behind", "is_plain_angle", "quantity"]

PLACES = 3
"""Decimals of a number in prose, at most; a worked step may show more."""

EXACT_PLACES = 9
"""Decimals of a length that a calculation reads again: no sixteenth and no typed number loses any."""

PLACES_OF = {"sq in": 4, "cu in": 4, "%": 2, "lbf": 1, "lbf/ft": 1}
"""Units that are written otherwise: the area of 12 AWG is 0.0133 sq in, and nobody reads a thousandth of a percent or a pound."""

FINEST = 1 / 32
"""The finest tolerance in inches: half a line of the tape, so that the sixteenth itself has to be right."""

SAID = frozenset({"answers", "days", "problems", "questions"})
"""Nouns that the program counts when it speaks; nobody types them, so they are no units of the core."""

COUNTED = SAID | frozenset(unit.id for unit in UNITS.values() if unit.id == unit.quantity != "count")
"""Counted things; each has two forms among the sentences, "unit.<noun>.one" and "unit.<noun>.many"."""

_BEHIND = {"": "", "count": "", "deg": "°", "%": "%", "lbf": " lb", "lbf/ft": " lb/ft"}
"""Units that are written otherwise than they are named: close up, or as people say them."""


def behind(unit: str) -> str:
    """
    What stands right behind a number of this unit.

    >>> behind("sq in"), behind("deg"), behind("lbf")
    (' sq in', '°', ' lb')
    """
    return _BEHIND.get(unit, f" {unit}")


def quantity(value: Quantity, language: str = "en") -> str:
    """
    A value with its unit: a length to the nearest sixteenth, and a 1/32 in, as tolerances are, as it is; areas and
    volumes to four decimals, percents to two, pounds to one, others to three.

    >>> quantity(Quantity(10.452, "in")), quantity(Quantity(22.5, "deg")), quantity(Quantity(1, "straps"))
    ('10-7/16 in', '22.5°', '1 strap')
    """
    if value.unit == "in":
        return write_length(value.value, denominator=32) if value.value == FINEST else _length(value.value)
    if value.unit == "deg":
        return _angle(value.value)
    number = write_number(value.value, PLACES_OF.get(value.unit, PLACES))
    if value.unit in COUNTED:
        return f"{number} {counted_sentence(value.unit, round(value.value), language)}"
    return f"{number}{behind(value.unit)}"


def _number_of(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float | Fraction):
        raise TypeError(f"a number for this format, not {value!r}")
    return float(value)


def _length(value: object) -> str:
    return _written_length(_number_of(value), feet=False)


def _feet(value: object) -> str:
    return _written_length(_number_of(value), feet=True)


@lru_cache(maxsize=8192)
def _written_length(inches: float, *, feet: bool) -> str:
    """Cached, because drawing a problem writes the same lengths over and over."""
    return write_length(inches, feet=feet)


def _inches(value: object) -> str:
    return f"{write_number(_number_of(value), PLACES)} in"


def _exact(value: object) -> str:
    return f"{write_number(_number_of(value), EXACT_PLACES)} in"


def _angle(value: object) -> str:
    """To the tenth of a degree, nearer than anyone bends; the quarters and eighths of shots and small bends in full."""
    degrees = _number_of(value)
    return f"{write_number(degrees, PLACES if is_plain_angle(degrees) else 1)}°"


def is_plain_angle(degrees: float) -> bool:
    """Whether it is written in full: a whole number of eighths of a degree."""
    return abs(degrees * 8 - round(degrees * 8)) < 1e-6


def _count(value: object) -> str:
    return f"{round(_number_of(value))}"


def _number(value: object) -> str:
    return write_number(_number_of(value), PLACES)


def _percent(value: object) -> str:
    return f"{write_number(_number_of(value), 1)}%"


def _area(value: object) -> str:
    return quantity(Quantity(_number_of(value), "sq in"))


def _volume(value: object) -> str:
    return quantity(Quantity(_number_of(value), "cu in"))


def _millionths(value: object) -> str:
    return f"{write_number(_number_of(value) * 1e6, 1)} millionths"


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise TypeError(f"words for this format, not {value!r}; name a format for a number")
    return value


def _words(value: object) -> str:
    """A name of the core as words: its dashes are spaces."""
    return _text(value).replace("-", " ")


FORMATS: Mapping[str, Callable[[object], str]] = MappingProxyType(
    {
        "length": _length,  # 12-3/8 in
        "feet": _feet,  # 3 ft 4-1/2 in
        "inches": _inches,  # 10.453 in, where the decimals matter
        "exact": _exact,  # 10.453125 in, for the inputs of a question file
        "angle": _angle,  # 22.5°
        "count": _count,  # 3
        "number": _number,  # 2.613
        "percent": _percent,  # 40%
        "area": _area,  # 0.0133 sq in
        "volume": _volume,  # 2.25 cu in
        "millionths": _millionths,  # 6.5 millionths
        "trade_size": _text,  # 3/4: a name, not a measurement
        "text": _text,
        "words": _words,  # wet-fittings: wet fittings
    }
)
"""What may stand behind the bar in `{{ name | format }}`; besides, `phrase` takes the family's words for a value."""
