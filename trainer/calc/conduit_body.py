"""
What may be in a conduit body: how wide it is, how many conductors go through, how many may be spliced. Square and cubic
inches. For conductors of 4 AWG and larger its length goes by the rules for pull boxes, see `pull_boxes`.
"""

from __future__ import annotations

from msgspec import Struct

from trainer.calc.boxes_counted import ALLOWANCES, cu_in
from trainer.calc.calculation import Calculation, Output
from trainer.calc.conductors import is_smaller, size_name
from trainer.calc.fill import TRADE_SIZE, sq_in
from trainer.calc.fill_count import CONDUCTOR_SIZE, INSULATION, MAX_CONDUCTORS, max_conductors
from trainer.calc.inputs import Input, Kind
from trainer.calc.raceways import raceway_of
from trainer.calc.tables import table
from trainer.calc.trace import note, steps
from trainer.calc.trig import round_down

__all__ = ["CONDUIT_BODY", "ConduitBody", "conduit_body"]

_TABLE = table("boxes")
_RULE = _TABLE["conduit_body"]
#: Conductors from this size on go by the rules for pull boxes.
_LARGE_FROM: str = table("pull_boxes")["rule"]["from_size"]

MARKED_VOLUME = Input("marked_volume", Kind.NUMBER, "12.5 cu in", "cu in", optional=True, above=0, most=10_000)


class ConduitBody(Struct, frozen=True):
    """
    What a conduit body has to be and may hold.

    Args:
        raceway_area: Of the largest raceway that it can take [in2].
        least_area: Its least inside cross section [in2]; None for conductors of 4 AWG and larger.
        most_through: The most conductors that go through without a splice.
        most_spliced: The most that may end in it; 0 where no volume is marked; None for sizes without an allowance.
    """

    raceway_area: float
    least_area: float | None
    most_through: int
    most_spliced: int | None


@steps(least_area="sq in", most_spliced="conductors")
def conduit_body(
    trade_size: str, insulation: str, conductor_size: str, marked_volume: float | None = None
) -> ConduitBody:
    """
    What the body for EMT of one trade size has to be, and may hold of one kind of conductor.

    Args:
        trade_size: Of the largest raceway that it can take, "1/2" to "4".
        insulation: Type, such as "THHN".
        conductor_size: "14" to "4/0" AWG, "250" to "500" kcmil.
        marked_volume: That is durably and legibly marked in it [in3]; None where there is no mark.

    Raises:
        InputError: When a word is no choice, or Table 5 doesn't list the conductor.

    Source: NFPA 70-2023 314.16(C); Chapter 9 Table 1; Table 314.16(B)(1).

    >>> body = conduit_body("3/4", "THHN", "12", 12.5)
    >>> body.least_area, body.most_through, body.most_spliced
    (1.066, 16, 5)
    """
    TRADE_SIZE.check(trade_size)
    MARKED_VOLUME.check(marked_volume)
    raceway_area, times = raceway_of("emt", trade_size).area, _RULE["times"]
    most_through = max_conductors("emt", trade_size, insulation, conductor_size).count
    note("most_through", "conduit_body.through", "count", size=trade_size)
    allowance = ALLOWANCES.get(conductor_size)
    if not is_smaller(conductor_size, than=_LARGE_FROM):
        note("least_area", "conduit_body.large", size=size_name(conductor_size))
        return ConduitBody(raceway_area, None, most_through, None if marked_volume else 0)
    note("least_area", "conduit_body.area", size=trade_size, area=sq_in(raceway_area))
    least_area = times * raceway_area
    if marked_volume is None or allowance is None:
        note("most_spliced", "conduit_body.no-mark")
        return ConduitBody(raceway_area, least_area, most_through, 0)
    note("most_spliced", "conduit_body.marked", size=size_name(conductor_size), allowance=cu_in(allowance))
    most_spliced = round_down(marked_volume / allowance)
    return ConduitBody(raceway_area, least_area, most_through, most_spliced)


CONDUIT_BODY = Calculation(
    name="conduit_body",
    function=conduit_body,
    inputs=(TRADE_SIZE, INSULATION, CONDUCTOR_SIZE, MARKED_VOLUME),
    outputs=(
        Output("raceway_area", "sq in"),
        Output("least_area", "sq in", optional=True),
        Output("most_through", "conductors"),
        Output("most_spliced", "conductors", optional=True),
    ),
    sources=(_RULE["source"], *MAX_CONDUCTORS.sources, _TABLE["allowance"]["source"]),
    area="boxes",
    example_inputs={"trade_size": "3/4", "insulation": "THHN", "conductor_size": "12", "marked_volume": "12.5 cu in"},
)
