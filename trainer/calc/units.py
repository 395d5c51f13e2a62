"""
The units that the program knows: which quantity each measures, and how it is written and typed.

The core computes in one unit a quantity: inches, degrees, square and cubic inches, pounds-force, percent, counts.
A count of straps and a count of sticks are two quantities, so that one is never taken for the other.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType

from msgspec import Struct

__all__ = ["UNITS", "Unit", "convert", "core_unit", "find_unit", "unit"]


class Unit(Struct, frozen=True):
    """
    One unit.

    Args:
        id: How the program names it: "in", "deg", "sq in", "straps".
        quantity: What it measures: "length", "angle", "area", "straps".
        factor: How many of the quantity's core unit make one of it, exactly.
        spellings: Ways in which people type it, in small letters and without a closing dot.
    """

    id: str
    quantity: str
    factor: Fraction
    spellings: tuple[str, ...]


_MM = Fraction(10, 254)  # Inches in a millimetre; the inch is 25.4 mm by definition.

_TABLE = (
    Unit("in", "length", Fraction(1), ('"', "in", "ins", "inch", "inches")),
    Unit("ft", "length", Fraction(12), ("'", "ft", "foot", "feet")),
    Unit("mm", "length", _MM, ("mm", "millimetre", "millimetres", "millimeter", "millimeters")),
    Unit("cm", "length", 10 * _MM, ("cm", "centimetre", "centimetres", "centimeter", "centimeters")),
    Unit("m", "length", 1000 * _MM, ("m", "metre", "metres", "meter", "meters")),
    Unit("deg", "angle", Fraction(1), ("°", "deg", "degs", "degree", "degrees")),
    Unit("sq in", "area", Fraction(1), ("sq in", "square inch", "square inches", "in2", "in²")),
    Unit("sq mm", "area", _MM**2, ("sq mm", "square millimetres", "square millimeters", "mm2", "mm²")),
    Unit("cu in", "volume", Fraction(1), ("cu in", "cubic inch", "cubic inches", "in3", "in³")),
    Unit("cu cm", "volume", (10 * _MM) ** 3, ("cu cm", "cubic centimetres", "cubic centimeters", "cm3", "cm³")),
    Unit("lbf", "force", Fraction(1), ("lbf", "lb", "lbs", "pound", "pounds")),
    Unit("A", "current", Fraction(1), ("a", "amp", "amps", "ampere", "amperes")),
    Unit("V", "voltage", Fraction(1), ("v", "volt", "volts")),
    Unit("lb/ft", "line-weight", Fraction(1), ("lb/ft", "lbs/ft", "lb per ft", "pounds per foot")),
    Unit("kg/m", "line-weight", Fraction(30480000, 45359237), ("kg/m", "kg per m", "kilograms per metre")),
    Unit(
        "lbf/ft",
        "sidewall-pressure",
        Fraction(1),
        ("lbf/ft", "lbf per ft", "lb/ft", "lbs/ft", "lb per ft", "pounds per foot"),
    ),
    Unit("cmil", "metal-area", Fraction(1), ("cmil", "circular mils")),
    Unit("kcmil", "metal-area", Fraction(1000), ("kcmil", "mcm")),
    # Temperatures are read by `trainer.calc.temperature`: a change has a factor, a temperature another zero as well.
    Unit("°C", "temperature", Fraction(1), ()),
    Unit("°F", "temperature-change", Fraction(1), ()),
    Unit("%", "share", Fraction(1), ("%", "percent", "per cent")),
    Unit("count", "count", Fraction(1), ("count",)),
    Unit("straps", "straps", Fraction(1), ("straps", "strap")),
    Unit("sticks", "sticks", Fraction(1), ("sticks", "stick")),
    Unit("fittings", "fittings", Fraction(1), ("fittings", "fitting")),
    Unit("couplings", "couplings", Fraction(1), ("couplings", "coupling")),
    Unit("connectors", "connectors", Fraction(1), ("connectors", "connector")),
    Unit("cuts", "cuts", Fraction(1), ("cuts", "cut")),
    Unit("pieces", "pieces", Fraction(1), ("pieces", "piece", "pcs", "pc")),
    Unit("bends", "bends", Fraction(1), ("bends", "bend")),
    Unit("conductors", "conductors", Fraction(1), ("conductors", "conductor", "wires", "wire")),
    Unit("", "number", Fraction(1), ()),
)

#: Every unit by its id; "" is a plain number.
UNITS: Mapping[str, Unit] = MappingProxyType({entry.id: entry for entry in _TABLE})

#: A spelling may be that of two quantities: "lb/ft" is said of a weight and of what presses in a bend.
_BY_SPELLING: dict[str, list[Unit]] = {}
for _entry in _TABLE:
    for _spelling in _entry.spellings:
        _BY_SPELLING.setdefault(_spelling, []).append(_entry)


def unit(id: str) -> Unit:  # noqa: A002 - the argument is the id
    """
    The unit of this id; KeyError when there is none.

    >>> unit("ft").factor
    Fraction(12, 1)
    """
    return UNITS[id]


def find_unit(spelling: str, quantity: str = "") -> Unit | None:
    """
    The unit that people spell so, None when there is none.

    Args:
        spelling: As typed.
        quantity: What is wanted, where two quantities have a unit of this spelling.

    >>> find_unit("Inches").id
    'in'
    >>> find_unit("ft.").id
    'ft'
    >>> find_unit("lb/ft", "sidewall-pressure").id
    'lbf/ft'
    """
    found = _BY_SPELLING.get(spelling.strip().lower().removesuffix("."), [])
    return next((entry for entry in found if entry.quantity == quantity), found[0] if found else None)


def core_unit(quantity: str) -> Unit:
    """
    The unit in which the core computes a quantity; KeyError when there is none.

    >>> core_unit("length").id
    'in'
    """
    for entry in _TABLE:
        if entry.quantity == quantity and entry.factor == 1:
            return entry
    raise KeyError(quantity)


def convert(value: float, from_unit: str, to_unit: str) -> float:
    """
    The same quantity in another unit.

    Args:
        value: The number in `from_unit`.
        from_unit: Id of its unit.
        to_unit: Id of the unit that is wanted.

    Raises:
        ValueError: When the two measure different quantities.

    >>> convert(2, "ft", "in")
    24.0
    """
    source, target = unit(from_unit), unit(to_unit)
    if source.quantity != target.quantity:
        raise ValueError(f"{from_unit!r} measures {source.quantity}, {to_unit!r} measures {target.quantity}")
    return value * float(source.factor / target.factor)
