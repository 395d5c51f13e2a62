"""The step between a tube on a wall and the knockout of a box on the same wall. Inches, measured from the wall."""

from __future__ import annotations

from msgspec import Struct

from trainer.calc.calculation import Calculation, Output
from trainer.calc.inputs import Input, Kind
from trainer.calc.message import Message
from trainer.calc.raceways import TRADE_SIZES, raceway_of
from trainer.calc.tables import table
from trainer.calc.trace import note, steps

__all__ = ["KNOCKOUT_STEP", "KnockoutStep", "knockout_step"]

TRADE_SIZE = Input("trade_size", Kind.TRADE_SIZE, "1/2", choices=TRADE_SIZES)
KNOCKOUT = Input("knockout", Kind.LENGTH, "3/4 in", "in", above=0, most=24)
TUBE_SPACER = Input("tube_spacer", Kind.LENGTH, "1/4 in", "in", optional=True, least=0, most=24)
BOX_SPACER = Input("box_spacer", Kind.LENGTH, "1/4 in", "in", optional=True, least=0, most=24)


class KnockoutStep(Struct, frozen=True):
    """
    Where tube and knockout stand.

    Args:
        tube_centre: From the wall to the middle of the tube [in].
        knockout_centre: From the wall to the middle of the knockout [in].
        step: What lies between the two: the depth of the box offset [in].
        spacer_needed: How far the tube is held off the wall so that it runs straight in [in]; None where the tube is
            too thick for that and the box has to come out instead.
    """

    tube_centre: float
    knockout_centre: float
    step: float
    spacer_needed: float | None


@steps(tube_centre="in", knockout_centre="in", depth="in", step="in", spacer_needed="in")
def knockout_step(trade_size: str, knockout: float, tube_spacer: float = 0.0, box_spacer: float = 0.0) -> KnockoutStep:
    """
    How far the knockout of a box lies off the line of a tube on the same wall.

    Args:
        trade_size: Of the tube, "1/2" to "4".
        knockout: From the back of the box to the middle of the knockout, measured on the box at hand [in].
        tube_spacer: What holds the tube off the wall: back of the tube to the wall [in].
        box_spacer: What holds the box off the wall [in].

    Raises:
        InputError: When a value lies outside its range.

    Source: geometry; outside diameter ANSI C80.3, UL 797.

    >>> found = knockout_step("1/2", 0.75)
    >>> round(found.step, 3), round(found.spacer_needed, 3)
    (0.397, 0.397)
    """
    for given, value in zip(KNOCKOUT_STEP.inputs, (trade_size, knockout, tube_spacer, box_spacer), strict=True):
        given.check(value)
    outside_diameter = raceway_of("emt", trade_size).outside_diameter
    outside = Message("cut_end.exact", {"inches": f"{outside_diameter:.3f}"})
    note("outside_diameter", "knockout_step.tube", size=trade_size, outside=outside)
    tube_centre = tube_spacer + outside_diameter / 2
    knockout_centre = box_spacer + knockout
    depth = knockout_centre - tube_centre
    step = abs(depth)
    if depth + tube_spacer < 0:
        note("spacer_needed", "knockout_step.too-thick", "knockout_centre")
        return KnockoutStep(tube_centre, knockout_centre, step, None)
    spacer_needed = tube_spacer + depth
    return KnockoutStep(tube_centre, knockout_centre, step, spacer_needed)


KNOCKOUT_STEP = Calculation(
    name="knockout_step",
    function=knockout_step,
    inputs=(TRADE_SIZE, KNOCKOUT, TUBE_SPACER, BOX_SPACER),
    outputs=(
        Output("tube_centre", "in"),
        Output("knockout_centre", "in"),
        Output("step", "in"),
        Output("spacer_needed", "in", optional=True),
    ),
    sources=(f"outside diameter: {table('raceway')['emt']['source']}", "the rest is geometry"),
    area="support",
    example_inputs={"trade_size": "1/2", "knockout": "3/4 in"},
)
