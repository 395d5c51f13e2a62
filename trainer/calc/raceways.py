"""Raceways as the tables list them. Inches and square inches; a trade size is a name, not a measurement."""

from __future__ import annotations

from typing import Any

from msgspec import Struct

from trainer.calc.tables import table

__all__ = ["KINDS", "SOURCES", "TRADE_SIZES", "Raceway", "raceway_of"]

_TABLE = table("raceway")

#: Electrical metallic tubing, rigid metal conduit, intermediate metal conduit.
KINDS: tuple[str, ...] = ("emt", "rmc", "imc")

#: Sizes whose bores are known, from the smallest.
TRADE_SIZES: tuple[str, ...] = tuple(row["trade_size"] for row in _TABLE["emt"]["rows"])

#: Where the bores come from.
SOURCES: tuple[str, ...] = (
    f"EMT: {_TABLE['emt']['source']}",
    "RMC and IMC bores: from memory, in part from a data sheet; look them up in print",
)


class Raceway(Struct, frozen=True):
    """
    One raceway of one trade size.

    Args:
        kind: "emt", "rmc" or "imc".
        trade_size: Its trade size.
        outside_diameter: [in]
        inside_diameter: The bore [in].
        area: Of the bore, as printed to three decimals [in2].
        least_radius: Of a bend made with a one-shot or full-shoe bender, to the centreline [in]; None if not in the
            table.
    """

    kind: str
    trade_size: str
    outside_diameter: float
    inside_diameter: float
    area: float
    least_radius: float | None


def _row(kind: str, row: dict[str, Any]) -> Raceway:
    outside, inside, area = row["outside_diameter"], row["inside_diameter"], row["area"]
    return Raceway(kind, row["trade_size"], outside, inside, area, row.get("least_radius"))


_RACEWAYS = {(kind, row["trade_size"]): _row(kind, row) for kind in KINDS for row in _TABLE[kind]["rows"]}


def raceway_of(kind: str, trade_size: str) -> Raceway:
    """
    The raceway of this kind and trade size; KeyError when there is none.

    >>> raceway_of("emt", "3/4").area
    0.533
    """
    return _RACEWAYS[kind, trade_size]
