"""How many conductors of one kind a raceway may hold: the counts of Annex C."""

from __future__ import annotations

from msgspec import Struct

from trainer.calc.calculation import Calculation, Output
from trainer.calc.conductors import INSULATIONS, TABLE_SIZES, Dimensions, dimensions, size_name, sizes_of
from trainer.calc.fill import NIPPLE, RACEWAY, ROUND_UP_FROM, SOURCES, TRADE_SIZE, allowed_percent_for, sq_in
from trainer.calc.inputs import Input, Kind
from trainer.calc.message import Message
from trainer.calc.raceways import raceway_of
from trainer.calc.tables import table
from trainer.calc.trace import note, steps
from trainer.calc.trig import round_down

__all__ = ["CONDUCTOR_SIZE", "INSULATION", "MAX_CONDUCTORS", "MaxConductors", "listed_dimensions", "max_conductors"]

INSULATION = Input("insulation", Kind.INSULATION, "THHN", choices=INSULATIONS)
CONDUCTOR_SIZE = Input("conductor_size", Kind.CONDUCTOR_SIZE, "12", choices=TABLE_SIZES)


class MaxConductors(Struct, frozen=True):
    """
    The most conductors of one kind.

    Args:
        count: How many may be in the raceway.
        area: Of one of them [in2].
        raceway_area: Of the bore [in2].
    """

    count: int
    area: float
    raceway_area: float


@steps()
def max_conductors(
    raceway: str, trade_size: str, insulation: str, conductor_size: str, nipple: bool = False
) -> MaxConductors:
    """
    How many equal conductors a raceway may hold; one and two have shares of their own.

    Args:
        raceway: "emt", "rmc" or "imc".
        trade_size: Its trade size, 1/2 to 4.
        insulation: Type, such as "THHN"; an asterisk means without outer covering.
        conductor_size: "14" to "4/0" AWG, "250" to "500" kcmil.
        nipple: Whether the run is 24 in or less between enclosures.

    Raises:
        InputError: When a word is no choice, or Table 5 doesn't list the conductor.

    Source: NFPA 70-2023 Chapter 9 Table 1 and Note 7; equals Annex C Table C.1 (tests/outside/test_published.py).

    >>> max_conductors("emt", "3/4", "THHN", "14").count
    22
    """
    RACEWAY.check(raceway)
    TRADE_SIZE.check(trade_size)
    area = listed_dimensions(conductor_size, insulation).area
    raceway_area = raceway_of(raceway, trade_size).area
    note("raceway_area", "fill.raceway", raceway=raceway.upper(), size=trade_size, area=sq_in(raceway_area))
    note("area", "fill.conductor", size=size_name(conductor_size), type=insulation, area=sq_in(area))
    note("round_up_from", "fill.alike", decimal=ROUND_UP_FROM)
    if nipple:
        return _in_a_nipple(raceway_area, area)
    return _by_shares(raceway_area, area)


def listed_dimensions(conductor_size: str, insulation: str) -> Dimensions:
    """
    Dimensions of an insulated conductor.

    Raises:
        InputError: When a word is no choice, or Table 5 doesn't list the size with this insulation.
    """
    INSULATION.check(insulation)
    CONDUCTOR_SIZE.check(conductor_size)
    found = dimensions(conductor_size, insulation)
    if found is None:
        params = {"size": size_name(conductor_size), "type": insulation}
        sizes = Message("fill.listed-sizes", {"type": insulation, "sizes": sizes_of(insulation)})
        raise CONDUCTOR_SIZE.refuse(Message("fill.not-listed", params), conductor_size, sizes)
    return found


@steps(count="conductors")
def _in_a_nipple(raceway_area: float, area: float) -> MaxConductors:
    room = _room(raceway_area, area, 3, nipple=True)
    count = room
    return MaxConductors(count, area, raceway_area)


@steps(count="conductors")
def _by_shares(raceway_area: float, area: float) -> MaxConductors:
    """By the share of three and more; where that holds fewer, by the share of two, then of one."""
    room = _room(raceway_area, area, 3, nipple=False)
    if room >= 3:
        count = room
        return MaxConductors(count, area, raceway_area)
    room = _room(raceway_area, area, 2, nipple=False)
    if room >= 2:
        count = min(room, 2)
        return MaxConductors(count, area, raceway_area)
    room = _room(raceway_area, area, 1, nipple=False)
    count = min(room, 1)
    return MaxConductors(count, area, raceway_area)


@steps(room="conductors")
def _room(raceway_area: float, area: float, conductors: int, *, nipple: bool) -> int:
    """What the share for so many conductors makes room for."""
    allowed_percent = allowed_percent_for(conductors, nipple=nipple)
    round_up_from = ROUND_UP_FROM
    room = round_down(raceway_area * allowed_percent / 100 / area + 1 - round_up_from)
    return room  # noqa: RET504 - the assignment is the step


MAX_CONDUCTORS = Calculation(
    name="max_conductors",
    function=max_conductors,
    inputs=(RACEWAY, TRADE_SIZE, INSULATION, CONDUCTOR_SIZE, NIPPLE),
    outputs=(Output("count", "conductors"), Output("area", "sq in"), Output("raceway_area", "sq in")),
    sources=(*SOURCES, table("raceway")["annex_c"]["source"]),
    area="fill",
    example_inputs={"raceway": "emt", "trade_size": "3/4", "insulation": "THHN", "conductor_size": "12"},
)
