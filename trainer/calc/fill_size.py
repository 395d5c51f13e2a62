"""The smallest raceway for given conductors."""

from __future__ import annotations

from msgspec import Struct

from trainer.calc.calculation import Calculation, Output
from trainer.calc.conductors import ConductorGroup
from trainer.calc.fill import CONDUCTORS, NIPPLE, RACEWAY, SOURCES, RacewayFill, raceway_fill
from trainer.calc.message import Message, Quantity
from trainer.calc.raceways import TRADE_SIZES
from trainer.calc.trace import note, steps

__all__ = ["RACEWAY_SIZE", "RacewaySize", "raceway_size"]


class RacewaySize(Struct, frozen=True):
    """
    The smallest raceway that may hold the conductors.

    Args:
        trade_size: Its trade size.
        area: Of all conductors with their insulation [in2].
        percent: What they take of it.
        allowed_percent: The most for so many conductors.
    """

    trade_size: str
    area: float
    percent: float
    allowed_percent: float


@steps()
def raceway_size(raceway: str, conductors: tuple[ConductorGroup, ...], nipple: bool = False) -> RacewaySize:
    """
    The smallest trade size that may hold these conductors.

    Args:
        raceway: "emt", "rmc" or "imc".
        conductors: Everything in it, grounding conductors too.
        nipple: Whether the run is 24 in or less between enclosures.

    Raises:
        InputError: When a word is no choice, the tables don't list a conductor, or no size up to 4 holds them.

    Source: NFPA 70-2023 Chapter 9 Table 1, Notes 3, 4 and 7, Tables 4, 5 and 8.

    >>> from trainer.calc.wire_lists import read_conductors
    >>> raceway_size("emt", read_conductors("16 #12 THHN")).trade_size
    '3/4'
    """
    smaller, trade_size = _smallest(raceway, conductors, nipple)
    if smaller is not None:
        note("trade_size", "fill.too-small", size=_before(trade_size), percent=Quantity(smaller.percent, "%"))
    filled = raceway_fill(raceway, trade_size, conductors, nipple)
    params = {"percent": Quantity(filled.percent, "%"), "allowed": Quantity(filled.allowed_percent, "%")}
    note("trade_size", "fill.smallest", "percent", "allowed_percent", size=trade_size, **params)
    return RacewaySize(trade_size, filled.area, filled.percent, filled.allowed_percent)


def _smallest(raceway: str, conductors: tuple[ConductorGroup, ...], nipple: bool) -> tuple[RacewayFill | None, str]:
    """The smallest size, and how the next smaller one would be filled."""
    smaller = None
    for trade_size in TRADE_SIZES:
        filled = raceway_fill(raceway, trade_size, conductors, nipple)
        if filled.fits:
            return smaller, trade_size
        smaller = filled
    params = {"size": TRADE_SIZES[-1], "percent": Quantity(filled.percent, "%")}
    raise CONDUCTORS.refuse(Message("fill.no-size", params), CONDUCTORS.written(conductors))


def _before(trade_size: str) -> str:
    return TRADE_SIZES[TRADE_SIZES.index(trade_size) - 1]


RACEWAY_SIZE = Calculation(
    name="raceway_size",
    function=raceway_size,
    inputs=(RACEWAY, CONDUCTORS, NIPPLE),
    outputs=(
        Output("trade_size"),
        Output("area", "sq in"),
        Output("percent", "%"),
        Output("allowed_percent", "%"),
    ),
    sources=SOURCES,
    area="fill",
    example_inputs={"raceway": "emt", "conductors": "12 #12 THHN, 1 #12 bare"},
)
