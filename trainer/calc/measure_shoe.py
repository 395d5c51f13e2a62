"""
A shop's own shoe, from three tape readings on one 90 bent in a scrap: what the tool's distances are. Inches.

A scrap of known length, a pencil mark, the take-up mark of the bender on it with the hook toward the measured end, one
90. Then the stub and the other leg, each to the back of the bend.
"""

from __future__ import annotations

from msgspec import Struct

from trainer.calc.arcs import radius_of_gain
from trainer.calc.calculation import Calculation, Output
from trainer.calc.inputs import Input, Kind
from trainer.calc.message import Message, Quantity
from trainer.calc.raceways import raceway_of
from trainer.calc.shoes import DEFAULT_SHOES, Shoe
from trainer.calc.step import write_number
from trainer.calc.trace import note, steps
from trainer.calc.trig import pi

__all__ = ["MEASURE_SHOE", "MeasuredShoe", "measure_shoe"]

STICK = Input("stick", Kind.LENGTH, "30 in", "in", above=0)
MARK = Input("mark", Kind.LENGTH, "8 in", "in", above=0)
STUB = Input("stub", Kind.LENGTH, "13 in", "in", above=0)
OTHER_LEG = Input("other_leg", Kind.LENGTH, "19-5/8 in", "in", above=0)
TRADE_SIZE = Input("trade_size", Kind.TRADE_SIZE, "1/2", choices=tuple(DEFAULT_SHOES))

#: How far a reading of a tape may be off [in].
_READING = 1 / 16


class MeasuredShoe(Struct, frozen=True):
    """
    A shoe as it was measured.

    Args:
        take_up: From the take-up mark to the back of a 90 [in].
        outside_gain: What a 90 takes less than its two legs to the back [in].
        radius: Of the bend, to the centreline [in].
        radius_unsure: How much too large the radius is if the two legs together were read 1/16 in too long [in].
        back_mark: Where the back-of-bend mark has to be: from the take-up mark, away from the hook [in].
        shoe: All of it as one record, as it can be typed.
    """

    take_up: float
    outside_gain: float
    radius: float
    radius_unsure: float
    back_mark: float
    shoe: Shoe


@steps(take_up="in", outside_gain="in", back_mark="in", radius_unsure="in")
def measure_shoe(stick: float, mark: float, stub: float, other_leg: float, trade_size: str) -> MeasuredShoe:
    """
    What a bender's shoe measures, from one bend.

    Args:
        stick: The straight scrap before it was bent [in].
        mark: From the end that the hook points at to the pencil mark [in].
        stub: From that end to the back of the bend [in].
        other_leg: From the other end to the back of the bend [in].
        trade_size: Of the tubing.

    Raises:
        InputError: When one lies outside its range, or the readings don't belong to one bend.

    Source: geometry; outside diameters of ANSI C80.3.

    >>> result = measure_shoe(30, 8, 13, 19.625, "1/2")
    >>> result.take_up, result.outside_gain, round(result.radius, 2), result.back_mark
    (5, 2.625, 4.47, 2.375)
    """
    values = (stick, mark, stub, other_leg, trade_size)
    for given, value in zip((STICK, MARK, STUB, OTHER_LEG, TRADE_SIZE), values, strict=True):
        given.check(value)
    outside_diameter = DEFAULT_SHOES[trade_size].outside_diameter
    _check_mark(mark, stub, outside_diameter)
    _check_legs(stick, stub, other_leg, outside_diameter)
    take_up = stub - mark
    outside_gain = stub + other_leg - stick
    note("outside_diameter", "measure_shoe.diameter", size=trade_size, diameter=write_number(outside_diameter))
    radius = radius_of_gain(outside_gain, outside_diameter)
    note("reading", "measure_shoe.unsure", reading=Quantity(_READING, "in"))
    reading = _READING
    radius_unsure = reading / (2 - pi / 2)
    _note_least_radius(radius, trade_size)
    back_mark = take_up - outside_gain
    shoe = Shoe(trade_size, take_up, radius, outside_diameter)
    return MeasuredShoe(take_up, outside_gain, radius, radius_unsure, back_mark, shoe)


@steps()
def _note_least_radius(radius: float, trade_size: str) -> None:
    """A shoe that bends tighter than the table allows is not fit for the work."""
    least = raceway_of("emt", trade_size).least_radius
    if least and radius < least:
        note("radius", "measure_shoe.too-tight", "radius", least=Quantity(least, "in"), size=trade_size)


def _check_mark(mark: float, stub: float, outside_diameter: float) -> None:
    """The back of the bend stands beyond the pencil mark, by more than the tubing is thick."""
    if stub - mark < outside_diameter:
        most = Message("measure_shoe.most-mark", {"most": Quantity(max(0.0, stub - outside_diameter), "in")})
        reason = Message("measure_shoe.mark", {"stub": Quantity(stub, "in")})
        raise MARK.refuse(reason, MARK.written(mark), most)


def _check_legs(stick: float, stub: float, other_leg: float, outside_diameter: float) -> None:
    """Both legs to the back come to more than the stick, or nothing was bent; and a leg is part of the stick."""
    least = stick - stub + 2 * outside_diameter
    most = stick - stub + 12 * outside_diameter
    if not least <= other_leg <= most or other_leg >= stick:
        reason = Message("measure_shoe.legs", {"stick": Quantity(stick, "in"), "stub": Quantity(stub, "in")})
        bounds = Message(
            "measure_shoe.between", {"least": Quantity(max(0.0, least), "in"), "most": Quantity(max(0.0, most), "in")}
        )
        raise OTHER_LEG.refuse(reason, OTHER_LEG.written(other_leg), bounds)


MEASURE_SHOE = Calculation(
    name="measure_shoe",
    function=measure_shoe,
    inputs=(STICK, MARK, STUB, OTHER_LEG, TRADE_SIZE),
    outputs=(
        Output("take_up", "in"),
        Output("outside_gain", "in"),
        Output("radius", "in"),
        Output("radius_unsure", "in"),
        Output("back_mark", "in"),
        Output("shoe"),
    ),
    sources=(
        "geometry of a 90 with arcs",
        "outside diameters: ANSI C80.3 and UL 797",
        "least radius: NFPA 70-2023 Chapter 9 Table 2, one-shot column",
    ),
    area="bending",
    example_inputs={"stick": "30 in", "mark": "8 in", "stub": "13 in", "other_leg": "19-5/8 in", "trade_size": "1/2"},
)
