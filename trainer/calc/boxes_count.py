"""How many conductors of one size a box may hold, with nothing else in it."""

from __future__ import annotations

from msgspec import Struct

from trainer.calc.boxes_counted import ALLOWANCES, EDITION, cu_in
from trainer.calc.boxes_named import Box
from trainer.calc.calculation import Calculation, Output
from trainer.calc.conductors import size_name
from trainer.calc.inputs import Input, Kind
from trainer.calc.tables import table
from trainer.calc.trace import note, steps
from trainer.calc.trig import round_down

__all__ = ["BOX_MAX_CONDUCTORS", "BoxMaxConductors", "box_max_conductors"]

_TABLE = table("boxes")

BOX = Input("box", Kind.BOX, "4 x 1-1/2 square")
CONDUCTOR_SIZE = Input("conductor_size", Kind.CONDUCTOR_SIZE, "12", choices=tuple(ALLOWANCES))


class BoxMaxConductors(Struct, frozen=True):
    """
    The most conductors of one size.

    Args:
        count: How many, with nothing else in the box.
        allowance: Of one of them [in3].
    """

    count: int
    allowance: float


@steps(count="conductors")
def box_max_conductors(box: Box, conductor_size: str, edition: str = "2023") -> BoxMaxConductors:
    """
    How many conductors of one size a box may hold when nothing else is in it. Boxes know no rounding up.

    Args:
        box: The box.
        conductor_size: "18" to "6" AWG.
        edition: Of NFPA 70, for the number of the table.

    Raises:
        InputError: When a word is no choice.

    Source: NFPA 70-2023 Table 314.16(A) and (B)(1).

    >>> from trainer.calc.boxes_named import read_box
    >>> box_max_conductors(read_box("4 x 2-1/8 square"), "12").count
    13
    """
    CONDUCTOR_SIZE.check(conductor_size)
    EDITION.check(edition)
    volume, allowance = box.volume, ALLOWANCES[conductor_size]
    note("volume", "boxes.box", name=box.name, volume=cu_in(volume))
    params = {"size": size_name(conductor_size), "allowance": cu_in(allowance)}
    note("allowance", "boxes.allowance", table=_TABLE["allowance"]["tables"][edition], **params)
    count = round_down(volume / allowance)
    return BoxMaxConductors(count, allowance)


BOX_MAX_CONDUCTORS = Calculation(
    name="box_max_conductors",
    function=box_max_conductors,
    inputs=(BOX, CONDUCTOR_SIZE, EDITION),
    outputs=(Output("count", "conductors"), Output("allowance", "cu in")),
    sources=(_TABLE["boxes"]["source"], _TABLE["allowance"]["source"]),
    area="boxes",
    example_inputs={"box": "4 x 1-1/2 octagonal", "conductor_size": "14"},
)
