"""What a bad cut leaves at the end of a tube: a ridge in the bore, an end out of square. Inches and percent."""

from __future__ import annotations

from msgspec import Struct

from trainer.calc.calculation import Calculation, Output
from trainer.calc.inputs import Input, Kind
from trainer.calc.message import Message
from trainer.calc.raceways import TRADE_SIZES, raceway_of
from trainer.calc.tables import table
from trainer.calc.trace import note, steps
from trainer.calc.trig import tan

__all__ = ["CUT_END", "CutEnd", "cut_end"]

TRADE_SIZE = Input("trade_size", Kind.TRADE_SIZE, "1/2", choices=TRADE_SIZES)
RIDGE = Input("ridge", Kind.LENGTH, "1/32 in", "in", optional=True, least=0, most=0.25)
SLANT = Input("slant", Kind.ANGLE, "5", "deg", optional=True, least=0, below=45)


class CutEnd(Struct, frozen=True):
    """
    The end of a tube after the cut.

    Args:
        bore: Of the tube [in].
        bore_left: What the ridge leaves of it [in].
        open_percent: What the ridge leaves of its area.
        lost_percent: What it takes of it.
        out_of_square: How much further one side of the end stands out than the side across from it [in].
    """

    bore: float
    bore_left: float
    open_percent: float
    lost_percent: float
    out_of_square: float


@steps(bore_left="in", open_percent="%", lost_percent="%")
def cut_end(trade_size: str, ridge: float = 0.0, slant: float = 0.0) -> CutEnd:
    """
    What a ridge of this height and a cut of this slant do to the end of EMT.

    Args:
        trade_size: "1/2" to "4".
        ridge: How far it stands into the bore, all the way round [in].
        slant: Of the cut against a square one [deg].

    Raises:
        InputError: When a value lies outside its range.

    Source: geometry; diameters ANSI C80.3, UL 797.

    >>> found = cut_end("1/2", 0.0625)
    >>> round(found.bore_left, 3), round(found.lost_percent, 1)
    (0.497, 36.2)
    """
    for given, value in ((TRADE_SIZE, trade_size), (RIDGE, ridge), (SLANT, slant)):
        given.check(value)
    tube = raceway_of("emt", trade_size)
    bore, outside_diameter = tube.inside_diameter, tube.outside_diameter
    note("bore", "cut_end.tube", size=trade_size, bore=_exact(bore), outside=_exact(outside_diameter))
    bore_left = bore - 2 * ridge
    open_percent = 100 * (bore_left / bore) ** 2
    lost_percent = 100 - open_percent
    out_of_square = _out_of_square(outside_diameter, slant)
    return CutEnd(bore, bore_left, open_percent, lost_percent, out_of_square)


@steps(out_of_square="in")
def _out_of_square(outside_diameter: float, slant: float) -> float:
    if not slant:
        return 0.0
    out_of_square = outside_diameter * tan(slant)
    return out_of_square  # noqa: RET504 - the assignment is the step


def _exact(inches: float) -> Message:
    return Message("cut_end.exact", {"inches": f"{inches:.3f}"})


CUT_END = Calculation(
    name="cut_end",
    function=cut_end,
    inputs=(TRADE_SIZE, RIDGE, SLANT),
    outputs=(
        Output("bore", "in"),
        Output("bore_left", "in"),
        Output("open_percent", "%"),
        Output("lost_percent", "%"),
        Output("out_of_square", "in"),
    ),
    sources=(f"diameters: {table('raceway')['emt']['source']}", "the rest is geometry"),
    area="cutting",
    example_inputs={"trade_size": "1/2", "ridge": "1/32 in", "slant": "5"},
)
