"""
The straight length to cut for a piece with 90s in it, so that both ends come out right without a second cut. Inches.

Legs are measured to the backs of the bends; a 90 takes its gain less than both of them. Whoever measured to the middle
of the tube or to its inside has to add up to the backs first. An offset in a leg takes its shrink more than the leg.
"""

from __future__ import annotations

from enum import StrEnum

from msgspec import Struct

from trainer.calc.calculation import Calculation, Output
from trainer.calc.cut_length import GOES_IN as _GOES_IN
from trainer.calc.cut_length import STANDS_OUT as _STANDS_OUT
from trainer.calc.cut_length import check_end
from trainer.calc.inputs import Input, Kind
from trainer.calc.message import Message, Quantity
from trainer.calc.trace import note, steps

__all__ = ["BENT_CUT_LENGTH", "BentCutLength", "Side", "bent_cut_length"]

#: Four 90s are the most between two boxes, so five legs.
MOST_LEGS = 5


class Side(StrEnum):
    """To which side of the bends the legs were measured."""

    BACK = "back"
    CENTRE = "centre"
    INSIDE = "inside"


LEGS = Input("legs", Kind.LENGTHS, "14 in, 40 in, 9-1/2 in", "in", above=0, most=12_000)
GAIN = Input("gain", Kind.LENGTH, "2-5/8 in", "in", least=0, most=240)
MEASURED = Input("measured", Kind.CHOICE, "inside", optional=True, choices=tuple(Side))
OUTSIDE_DIAMETER = Input("outside_diameter", Kind.LENGTH, "0.706 in", "in", optional=True, above=0, most=12)
OFFSET_DEPTH = Input("offset_depth", Kind.LENGTH, "4 in", "in", optional=True, least=0, most=240)
SHRINK_PER_INCH = Input("shrink_per_inch", Kind.LENGTH, "1/4 in", "in", optional=True, least=0, most=1)
FITTED_ENDS = Input("fitted_ends", Kind.COUNT, "2", "count", optional=True, least=0, most=2)
STANDS_OUT = Input("stands_out", Kind.LENGTH, _STANDS_OUT.example, "in", optional=True, least=0, most=_STANDS_OUT.most)
GOES_IN = Input("goes_in", Kind.LENGTH, _GOES_IN.example, "in", optional=True, least=0, most=_GOES_IN.most)


class BentCutLength(Struct, frozen=True):
    """
    The tube of a bent piece.

    Args:
        bends: How many 90s it has.
        to_backs: All legs, measured to the backs [in].
        all_gain: What the 90s take less [in].
        shrink: What the offset takes more [in].
        ends: What the connectors take off at the ends [in].
        tube: To cut before bending [in].
    """

    bends: int
    to_backs: float
    all_gain: float
    shrink: float
    ends: float
    tube: float


@steps(all_gain="in", shrink="in", ends="in", tube="in")
def bent_cut_length(
    legs: tuple[float, ...],
    gain: float,
    measured: str = Side.BACK,
    *,
    outside_diameter: float | None = None,
    offset_depth: float = 0.0,
    shrink_per_inch: float = 0.0,
    fitted_ends: int = 0,
    stands_out: float = 0.0,
    goes_in: float = 0.0,
) -> BentCutLength:
    """
    What to cut for a piece with a 90 between every two legs.

    Args:
        legs: Each leg [in], the first and the last from the end of the tube, or from the face of its box.
        gain: Of one 90: both legs to the back of the bend, less the tube that they take [in].
        measured: Whether the legs were measured to the backs of the bends, to their middles or to their insides.
        outside_diameter: Of the tube [in]; needed unless the legs go to the backs.
        offset_depth: Depth of an offset in one of the legs [in].
        shrink_per_inch: What it takes more than the leg, for each inch of depth [in].
        fitted_ends: At how many ends the leg was measured from the face of a box, with a connector there.
        stands_out: How far a connector stands out of its box [in].
        goes_in: How far the tube goes into it [in].

    Raises:
        InputError: When one lies outside its range, there are more than four 90s, or nothing is left for the tube.

    Source: geometry; common practice.

    >>> bent_cut_length((14, 40), 2.625).tube
    51.375
    """
    named = {LEGS: legs, GAIN: gain, MEASURED: measured, OUTSIDE_DIAMETER: outside_diameter}
    more = {OFFSET_DEPTH: offset_depth, SHRINK_PER_INCH: shrink_per_inch, FITTED_ENDS: fitted_ends}
    for given, value in {**named, **more}.items():
        given.check(value)
    check_end(stands_out, goes_in)
    bends = _bends(legs)
    to_backs = _to_backs(legs, bends, measured, outside_diameter)
    all_gain, shrink, ends = 0.0, 0.0, 0.0  # What is not there gives no step.
    if bends:
        all_gain = bends * gain
    if offset_depth:
        shrink = offset_depth * shrink_per_inch
    if fitted_ends:
        ends = fitted_ends * (stands_out - goes_in)
    if offset_depth and not bends:
        tube = to_backs + shrink - ends
    elif offset_depth:
        tube = to_backs - all_gain + shrink - ends
    elif fitted_ends:
        tube = to_backs - all_gain - ends
    else:
        tube = to_backs - all_gain
    if tube <= 0:
        least = Message("bent_cut_length.least", {"least": Quantity(all_gain + ends, "in")})
        raise LEGS.refuse(Message("bent_cut_length.no-tube"), LEGS.written(legs), least)
    return BentCutLength(bends, to_backs, all_gain, shrink, ends, tube)


@steps()
def _bends(legs: tuple[float, ...]) -> int:
    if not legs:
        raise LEGS.refuse(Message("input.missing"), "")
    if len(legs) > MOST_LEGS:
        raise LEGS.refuse(Message("bent_cut_length.too-many"), LEGS.written(legs), Message("bent_cut_length.most"))
    note("bends", "bent_cut_length.bends", bends=Quantity(len(legs) - 1, "bends"))
    return len(legs) - 1


@steps(measured_legs="in", to_backs="in")
def _to_backs(legs: tuple[float, ...], bends: int, measured: str, outside_diameter: float | None) -> float:
    """All legs to the backs: at each bend both of its legs lack the same."""
    if measured == Side.BACK:
        to_backs = sum(legs)
        return to_backs  # noqa: RET504 - the assignment is the step
    if outside_diameter is None:
        raise OUTSIDE_DIAMETER.refuse(Message("bent_cut_length.diameter"), "")
    measured_legs = sum(legs)
    note("to_backs", f"bent_cut_length.{measured}")
    if measured == Side.INSIDE:
        to_backs = measured_legs + 2 * bends * outside_diameter
    else:
        to_backs = measured_legs + bends * outside_diameter
    return to_backs


BENT_CUT_LENGTH = Calculation(
    name="bent_cut_length",
    function=bent_cut_length,
    inputs=(
        LEGS,
        GAIN,
        MEASURED,
        OUTSIDE_DIAMETER,
        OFFSET_DEPTH,
        SHRINK_PER_INCH,
        FITTED_ENDS,
        STANDS_OUT,
        GOES_IN,
    ),
    outputs=(
        Output("bends", "bends"),
        Output("to_backs", "in"),
        Output("all_gain", "in"),
        Output("shrink", "in"),
        Output("ends", "in"),
        Output("tube", "in"),
    ),
    sources=(
        "geometry of an arc between two straight legs",
        "gain off, shrink on, then the connectors: common practice, no source",
    ),
    area="bending",
    example_inputs={"legs": "14 in, 40 in", "gain": "2-5/8 in", "measured": "inside", "outside_diameter": "0.706 in"},
)
