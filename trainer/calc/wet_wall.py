"""A metal cabinet on a wet wall: air behind it, the drain hole, the entry of the raceway. Inches."""

from __future__ import annotations

from msgspec import Struct

from trainer.calc.calculation import Calculation, Output
from trainer.calc.inputs import Input, Kind
from trainer.calc.message import Quantity
from trainer.calc.tables import table
from trainer.calc.trace import note, steps

__all__ = ["WET_WALL", "WetWall", "drain_limits", "wet_wall"]

_TABLE = table("wet")
_FORGIVEN = 1e-9

AIR_SPACE = Input("air_space", Kind.LENGTH, "1/4 in", "in", least=0, most=24)
DRAIN_HOLE = Input("drain_hole", Kind.LENGTH, "3/16 in", "in", above=0, most=4)
LIVE_PARTS = Input("live_parts", Kind.LENGTH, "40 in", "in", least=0, most=240)
ENTRY = Input("entry", Kind.LENGTH, "52 in", "in", least=0, most=240)


class WetWall(Struct, frozen=True):
    """
    What is amiss or asked for.

    Args:
        air_short: What the air space lacks [in]; 0 where it is wide enough.
        drain_allowed: Whether a drain hole of this diameter may be drilled in the field.
        entry_above: How far the entry lies above the highest bare live part [in]; 0 where it lies at it or below.
        entry_listed: Whether the fitting at the entry has to be listed for wet locations by its height.
    """

    air_short: float
    drain_allowed: bool
    entry_above: float
    entry_listed: bool


def drain_limits() -> dict[str, float]:
    """Width of a drain hole that is made in the field, the "least" and the "most" [in] (NFPA 70-2023 314.15)."""
    return {name: float(_TABLE["drain"][name]) for name in ("least", "most")}


@steps(air_short="in", entry_above="in")
def wet_wall(air_space: float, drain_hole: float, live_parts: float, entry: float) -> WetWall:
    """
    Hold a surface cabinet in a wet place against the rules that have numbers.

    Args:
        air_space: Between the metal and the wall [in].
        drain_hole: Diameter of a drain opening that is made in the field [in].
        live_parts: Height of the highest uninsulated live part [in].
        entry: Height of the middle of the raceway's entry, from the same level [in].

    Raises:
        InputError: When a length lies outside its range.

    Source: NFPA 70-2023 312.2, 300.6(D), 314.15.

    >>> wet_wall(0.125, 0.25, 40.0, 30.0)
    WetWall(air_short=0.125, drain_allowed=True, entry_above=0, entry_listed=False)
    """
    for given, value in zip(WET_WALL.inputs, (air_space, drain_hole, live_parts, entry), strict=True):
        given.check(value)
    least_air, smallest, largest = _TABLE["air_space"]["least"], _TABLE["drain"]["least"], _TABLE["drain"]["most"]
    note("air_short", "wet_wall.air", least=Quantity(least_air, "in"))
    air_short = max(0, least_air - air_space)
    drain_allowed = smallest - _FORGIVEN <= drain_hole <= largest + _FORGIVEN
    said = "wet_wall.drain" if drain_allowed else "wet_wall.no-drain"
    note("drain_allowed", said, least=Quantity(smallest, "in"), most=Quantity(largest, "in"))
    entry_above = max(0, entry - live_parts)
    entry_listed = entry_above > _TABLE["entry"]["listed_above"]
    note("entry_listed", "wet_wall.listed" if entry_listed else "wet_wall.below", "entry_above")
    return WetWall(air_short, drain_allowed, entry_above, entry_listed)


WET_WALL = Calculation(
    name="wet_wall",
    function=wet_wall,
    inputs=(AIR_SPACE, DRAIN_HOLE, LIVE_PARTS, ENTRY),
    outputs=(
        Output("air_short", "in"),
        Output("drain_allowed"),
        Output("entry_above", "in"),
        Output("entry_listed"),
    ),
    sources=tuple(dict.fromkeys(_TABLE[name]["source"] for name in ("air_space", "drain", "entry"))),
    area="wet",
    example_inputs={"air_space": "1/8 in", "drain_hole": "3/16 in", "live_parts": "40 in", "entry": "52 in"},
)
