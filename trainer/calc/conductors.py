"""
Conductors as the tables list them: sizes, dimensions, circular mils, resistances, temperatures.

A size is its name: "12" is 12 AWG, "1/0" is 1/0 AWG, "250" is 250 kcmil. Inches, square inches, ohm per 1000 ft, C.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from msgspec import Struct

from trainer.calc.message import Message
from trainer.calc.tables import table

__all__ = [
    "BARE",
    "BARE_SOLID",
    "INSULATIONS",
    "SIZES",
    "SLACK",
    "SOURCES",
    "TABLE_SIZES",
    "ConductorGroup",
    "Dimensions",
    "circular_mils",
    "dimensions",
    "is_smaller",
    "rating",
    "resistance",
    "size_name",
    "sizes_of",
]

_TABLE = table("conductors")
_PROPERTIES: Mapping[str, list[Any]] = {row[0]: row for row in _TABLE["properties"]["rows"]}
_LARGER: tuple[str, ...] = tuple(_TABLE["larger_sizes"]["sizes"])

BARE = "bare"
BARE_SOLID = "bare solid"

#: Sizes of Tables 5 and 8, from the smallest.
TABLE_SIZES: tuple[str, ...] = tuple(_PROPERTIES)

#: Every size that is known, from the smallest.
SIZES: tuple[str, ...] = (*_TABLE["smaller_sizes"]["sizes"], *TABLE_SIZES, *_LARGER)

_RATINGS: Mapping[str, tuple[int, int]] = {name: (dry, wet) for name, dry, wet in _TABLE["insulation"]["rows"]}

_DIMENSIONS = _TABLE["dimensions"]
_FAMILIES = [group for group in _DIMENSIONS.values() if isinstance(group, dict)]

#: Insulation types whose dimensions are known; an asterisk means without outer covering.
INSULATIONS: tuple[str, ...] = tuple(name for family in _FAMILIES for name in family["types"])

#: What gauge steps in printed circular mils miss each other by, at most, as a share.
SLACK: float = _TABLE["properties"]["slack"]

#: Where the dimensions come from.
SOURCES: tuple[str, ...] = (
    f"conductors: {_DIMENSIONS['source']}",
    "RHH, RHW and RHW-2 with covering: areas from memory, confirmed by the printed counts that follow from them",
    "TW with the dimensions of THW: from memory",
    f"bare conductors: {_TABLE['bare_solid']['source']}",
)


class ConductorGroup(Struct, frozen=True):
    """
    So many conductors of one kind.

    Args:
        count: How many, at least 1.
        size: Name of their size, one of `SIZES`.
        insulation: One of `INSULATIONS`, "bare" or "bare solid"; "" where it doesn't matter.
    """

    count: int
    size: str
    insulation: str = ""

    def __str__(self) -> str:
        """
        As it is written in the trade.

        >>> str(ConductorGroup(3, "12", "THHN"))
        '3 #12 THHN'
        >>> str(ConductorGroup(3, "300", "THHN"))
        '3 x 300 kcmil THHN'
        """
        is_kcmil = self.size.isdigit() and int(self.size) >= 250
        named = f"x {self.size} kcmil" if is_kcmil else f"#{self.size}"
        return f"{self.count} {named} {self.insulation}".strip()

    def message(self) -> Message:
        """The group as a sentence."""
        return Message("conductors.group", {"group": str(self)})


class Dimensions(Struct, frozen=True):
    """Overall diameter [in] and area [in2] of a conductor with its insulation."""

    diameter: float
    area: float


def _listed() -> dict[tuple[str, str], Dimensions]:
    found = {
        (size, name): Dimensions(diameter, area)
        for family in _FAMILIES
        for name in family["types"]
        for size, diameter, area in family["rows"]
    }
    found |= {(size, BARE): Dimensions(*rest) for size, *rest in _TABLE["bare_stranded"]["rows"]}
    return found | {(size, BARE_SOLID): Dimensions(*rest) for size, *rest in _TABLE["bare_solid"]["rows"]}


_LISTED = _listed()


def dimensions(size: str, insulation: str) -> Dimensions | None:
    """
    What Table 5 lists for an insulated conductor, Table 8 for a bare one; None where they list nothing.

    >>> dimensions("12", "THHN")
    Dimensions(diameter=0.13, area=0.0133)
    """
    return _LISTED.get((size, insulation))


def sizes_of(insulation: str) -> tuple[str, ...]:
    """
    Sizes that are listed with this insulation, or bare.

    >>> sizes_of("bare solid")
    ('14', '12', '10', '8')
    """
    return tuple(size for size in SIZES if (size, insulation) in _LISTED)


def circular_mils(size: str) -> int:
    """
    Area of the metal in circular mils, as printed; KeyError below 14 AWG.

    >>> circular_mils("12"), circular_mils("600")
    (6530, 600000)
    """
    if size in _LARGER:
        return 1000 * int(size)
    return int(_PROPERTIES[size][1])


def resistance(size: str, material: str) -> float:
    """Of a stranded, uncoated conductor of "copper" or "aluminum" at 75 C [ohm per 1000 ft]; KeyError if not listed."""
    return float(_PROPERTIES[size][3 if material == "copper" else 5])


def rating(insulation: str, *, wet: bool) -> int:
    """
    Highest temperature of the conductor in a dry or a wet place [C]; 0 where the type is not for wet places.

    >>> rating("XHHW", wet=True), rating("THHN", wet=True)
    (75, 0)
    """
    return _RATINGS[insulation.replace("*", "")][wet]


def is_smaller(size: str, than: str) -> bool:
    """
    Whether one size is smaller than the other.

    >>> is_smaller("6", "4"), is_smaller("1/0", "1")
    (True, False)
    """
    return SIZES.index(size) < SIZES.index(than)


def size_name(size: str) -> Message:
    """The size with its unit: 12 AWG, 250 kcmil."""
    return Message("conductors.kcmil" if size.isdigit() and int(size) >= 250 else "conductors.awg", {"size": size})
