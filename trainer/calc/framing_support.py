"""A level run through openings in framing: what the openings carry, and which fasteners are asked for all the same. Inches."""

from __future__ import annotations

from msgspec import Struct

from trainer.calc.calculation import Calculation, Output
from trainer.calc.inputs import Input, Kind
from trainer.calc.message import Quantity
from trainer.calc.straps import STRAP_COUNT, strap_count
from trainer.calc.tables import table
from trainer.calc.trace import note, steps

__all__ = ["FRAMING", "FRAMING_SUPPORT", "FramingSupport", "framing_support"]

_SUPPORT = table("support")
_RULE = _SUPPORT["emt"]
_FORGIVEN = 1e-9

#: What the tube may go through: bored wood, punched metal studs, the bottom chords of trusses, webs of steel frames.
FRAMING = ("wood-studs", "metal-studs", "joists", "trusses", "frames")

RUN_LENGTH = STRAP_COUNT.input("run_length")
MEMBERS = Input("framing", Kind.CHOICE, "wood-studs", choices=FRAMING)
SPACING = Input("spacing", Kind.LENGTH, "16 in", "in", least=4, most=480)
EDGE = Input("edge", Kind.LENGTH, "1-1/4 in", "in", optional=True, least=0, most=12)
MAX_SPACING, MAX_FROM_END = (STRAP_COUNT.input(name) for name in ("max_spacing", "max_from_end"))


class FramingSupport(Struct, frozen=True):
    """
    What holds a level run in framing.

    Args:
        carried: Whether the openings stand near enough to each other to support the run between its ends.
        straps: The least number of fasteners that are asked for besides.
        positions: One good place for each, from the start of the run [in].
        edge_short: What the hole lacks to the distance from the edge that softer raceways keep [in]; EMT takes no plate.
    """

    carried: bool
    straps: int
    positions: tuple[float, ...]
    edge_short: float


@steps(edge_short="in")
def framing_support(
    run_length: float,
    framing: str,
    spacing: float,
    edge: float = _SUPPORT["bored_hole"]["least"],
    *,
    max_spacing: float = _RULE["max_spacing"],
    max_from_end: float = _RULE["max_from_end"],
) -> FramingSupport:
    """
    Which fasteners a level run needs that goes through openings in framing.

    Args:
        run_length: From termination to termination [in], above 0.
        framing: What it goes through; for the drawing.
        spacing: From one piece of framing to the next, middle to middle [in].
        edge: From the edge of the hole to the nearest edge of the piece [in].
        max_spacing: The most between two supports [in].
        max_from_end: The most from a termination to its fastener [in].

    Raises:
        InputError: When one lies outside its range.

    Source: NFPA 70-2023 358.30(B), 300.4(A)(1) and (D).

    >>> framing_support(360, "wood-studs", 16).straps, framing_support(360, "frames", 144).straps
    (2, 4)
    """
    given = (run_length, framing, spacing, edge, max_spacing, max_from_end)
    for one, value in zip(FRAMING_SUPPORT.inputs, given, strict=True):
        one.check(value)
    carried = spacing <= max_spacing + _FORGIVEN
    by = {"most": Quantity(max_spacing / 12, "ft"), "spacing": Quantity(spacing, "in")}
    note("carried", "framing.carried" if carried else "framing.too-far", **by)
    note("straps", "framing.ends", reach=Quantity(max_from_end / 12, "ft"))
    if carried:
        positions = _near_the_ends(run_length, spacing, max_from_end)
        straps = len(positions)
    else:
        found = strap_count(run_length, max_spacing=max_spacing, max_from_end=max_from_end)
        positions, straps = found.positions, found.straps
    least = _SUPPORT["bored_hole"]["least"]
    edge_short = max(0.0, least - edge)
    note("edge_short", "framing.plates")
    return FramingSupport(carried, straps, positions, edge_short)


def _near_the_ends(run_length: float, spacing: float, reach: float) -> tuple[float, ...]:
    """A fastener at each end, on the last piece of framing within reach; one in the middle where it reaches both."""
    if run_length <= 2 * reach:
        return (run_length / 2,)
    first = reach // spacing * spacing or reach
    last = -(-(run_length - reach) // spacing) * spacing
    return first, last if last < run_length else run_length - reach


FRAMING_SUPPORT = Calculation(
    name="framing_support",
    function=framing_support,
    inputs=(RUN_LENGTH, MEMBERS, SPACING, EDGE, MAX_SPACING, MAX_FROM_END),
    outputs=(Output("carried"), Output("straps", "straps"), Output("positions", "in"), Output("edge_short", "in")),
    sources=("openings in framing: NFPA 70-2023 358.30(B)", _RULE["source"], _SUPPORT["bored_hole"]["source"]),
    area="support",
    example_inputs={"run_length": "30 ft", "framing": "wood-studs", "spacing": "16 in", "edge": "1 in"},
)
