"""How full a raceway is. Square inches and percent."""

from __future__ import annotations

from msgspec import Struct

from trainer.calc import conductors as listed
from trainer.calc import raceways
from trainer.calc.calculation import Calculation, Output
from trainer.calc.conductors import ConductorGroup, dimensions
from trainer.calc.inputs import Input, Kind
from trainer.calc.message import Message, Quantity
from trainer.calc.raceways import KINDS, TRADE_SIZES, raceway_of
from trainer.calc.tables import table
from trainer.calc.trace import note, steps
from trainer.calc.trig import round_down

__all__ = [
    "CONDUCTORS",
    "NIPPLE",
    "RACEWAY",
    "RACEWAY_FILL",
    "ROUND_UP_FROM",
    "SOURCES",
    "TRADE_SIZE",
    "RacewayFill",
    "allowed_percent_for",
    "raceway_fill",
    "sq_in",
]

_RULE = table("raceway")["fill"]

#: Where all conductors have one cross section, a decimal part from here on makes one more.
ROUND_UP_FROM: float = _RULE["round_up_from"]

RACEWAY = Input("raceway", Kind.CHOICE, "emt", choices=KINDS)
TRADE_SIZE = Input("trade_size", Kind.TRADE_SIZE, "3/4", choices=TRADE_SIZES)
CONDUCTORS = Input("conductors", Kind.CONDUCTORS, "3 #12 THHN, 1 #10 THHN")
NIPPLE = Input("nipple", Kind.YES_NO, "yes", optional=True)

#: Sources of everything that is about fill.
SOURCES = (_RULE["source"], *raceways.SOURCES, *listed.SOURCES)


class RacewayFill(Struct, frozen=True):
    """
    What the conductors take of a raceway.

    Args:
        area: Of all conductors with their insulation [in2].
        percent: Of the raceway's bore.
        allowed_percent: The most for so many conductors.
        fits: Whether they may be in it; the count of Note 7 included, where all have one cross section.
        raceway_area: Of the bore [in2].
        allowed_area: The most that the conductors may take [in2].
        conductor_count: How many there are, grounding conductors included.
        area_left: What may still be taken [in2]; below 0 where too much is in it.
    """

    area: float
    percent: float
    allowed_percent: float
    fits: bool
    raceway_area: float
    allowed_area: float
    conductor_count: int
    area_left: float


@steps(percent="%", allowed_area="sq in", area_left="sq in")
def raceway_fill(
    raceway: str, trade_size: str, conductors: tuple[ConductorGroup, ...], nipple: bool = False
) -> RacewayFill:
    """
    How much of a raceway the conductors take, and whether that is allowed.

    Args:
        raceway: "emt", "rmc" or "imc".
        trade_size: Its trade size, 1/2 to 4.
        conductors: Everything in it, grounding conductors too: insulated or bare, they all take room.
        nipple: Whether the run is 24 in or less between enclosures.

    Raises:
        InputError: When a word is no choice, or the tables don't list a conductor.

    Source: NFPA 70-2023 Chapter 9 Table 1, Notes 3, 4 and 7, Tables 4, 5 and 8.

    >>> from trainer.calc.wire_lists import read_conductors
    >>> filled = raceway_fill("emt", "1/2", read_conductors("9 #12 THHN"))
    >>> round(filled.area, 4), round(filled.percent, 1), filled.fits
    (0.1197, 39.4, True)
    """
    RACEWAY.check(raceway)
    TRADE_SIZE.check(trade_size)
    raceway_area = raceway_of(raceway, trade_size).area
    note("raceway_area", "fill.raceway", raceway=raceway.upper(), size=trade_size, area=sq_in(raceway_area))
    area = _area(conductors)
    percent = 100 * area / raceway_area
    count = sum(group.count for group in conductors)
    allowed_percent = allowed_percent_for(count, nipple=nipple)
    allowed_area = raceway_area * allowed_percent / 100
    area_left = allowed_area - area
    fits = area <= allowed_area + 1e-9 or _fits_by_count(allowed_area, conductors, count)
    params = {"percent": Quantity(percent, "%"), "allowed": Quantity(allowed_percent, "%")}
    by_count = "-by-count" if percent > allowed_percent + 1e-9 else ""
    note("fits", f"fill.fits{by_count}" if fits else "fill.fits-not", "percent", "allowed_percent", **params)
    return RacewayFill(area, percent, allowed_percent, fits, raceway_area, allowed_area, count, area_left)


@steps()
def allowed_percent_for(count: int, *, nipple: bool) -> float:
    """
    The most that so many conductors may take of a raceway [%].

    >>> [allowed_percent_for(count, nipple=False) for count in (1, 2, 3)]
    [53.0, 31.0, 40.0]
    """
    of_count = {1: _RULE["one"], 2: _RULE["two"]}.get(count, _RULE["over_two"])
    allowed = float(_RULE["nipple"] if nipple else of_count)
    kind = "fill.nipple" if nipple else "fill.share"
    note("allowed_percent", kind, count=Quantity(count, "conductors"), percent=Quantity(allowed, "%"))
    return allowed


def sq_in(area: float) -> str:
    """An area to all the decimals of its table."""
    return f"{area:g} sq in"


@steps(area="sq in")
def _area(conductors: tuple[ConductorGroup, ...]) -> float:
    areas: tuple[float, ...] = ()
    told: set[tuple[str, str]] = set()
    for group in conductors:
        each = _each(group)
        if (group.size, group.insulation) not in told:
            note("areas", "fill.conductor", size=listed.size_name(group.size), type=group.insulation, area=sq_in(each))
        told.add((group.size, group.insulation))
        areas = (*areas, *([each] * group.count))
    area = sum(areas)
    return area  # noqa: RET504 - the assignment is the step


def _each(group: ConductorGroup) -> float:
    """Area of one conductor of a group [in2]."""
    found = dimensions(group.size, group.insulation)
    if found is None:
        params = {"size": listed.size_name(group.size), "type": group.insulation}
        sizes = Message("fill.listed-sizes", {"type": group.insulation, "sizes": listed.sizes_of(group.insulation)})
        raise CONDUCTORS.refuse(Message("fill.not-listed", params), str(group), sizes)
    return found.area


@steps(most="conductors")
def _fits_by_count(allowed_area: float, conductors: tuple[ConductorGroup, ...], count: int) -> bool:
    """Note 7: where all have one cross section they are counted, and from .8 on there is room for one more."""
    areas = {_each(group) for group in conductors}
    if len(areas) > 1:
        note("fits", "fill.mixed")
        return False
    each, round_up_from = areas.pop(), ROUND_UP_FROM
    note("round_up_from", "fill.alike", decimal=round_up_from)
    most = round_down(allowed_area / each + 1 - round_up_from)
    return count <= most


RACEWAY_FILL = Calculation(
    name="raceway_fill",
    function=raceway_fill,
    inputs=(RACEWAY, TRADE_SIZE, CONDUCTORS, NIPPLE),
    outputs=(
        Output("area", "sq in"),
        Output("percent", "%"),
        Output("allowed_percent", "%"),
        Output("fits"),
        Output("raceway_area", "sq in"),
        Output("allowed_area", "sq in"),
        Output("conductor_count", "conductors"),
        Output("area_left", "sq in"),
    ),
    sources=SOURCES,
    area="fill",
    example_inputs={"raceway": "emt", "trade_size": "1/2", "conductors": "3 #12 THHN, 1 #10 THHN"},
)
