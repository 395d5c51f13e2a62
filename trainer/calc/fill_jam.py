"""Whether three equal conductors can line up across the bore and wedge. Inches."""

from __future__ import annotations

from enum import StrEnum

from msgspec import Struct

from trainer.calc import conductors as listed
from trainer.calc import raceways
from trainer.calc.calculation import Calculation, Output
from trainer.calc.conductors import ConductorGroup
from trainer.calc.fill import RACEWAY, TRADE_SIZE, raceway_fill
from trainer.calc.fill_count import CONDUCTOR_SIZE, INSULATION, listed_dimensions
from trainer.calc.message import Quantity
from trainer.calc.raceways import raceway_of
from trainer.calc.tables import table
from trainer.calc.trace import note, steps

__all__ = ["JAM_RATIO", "JamRatio", "JamRisk", "jam_ratio"]

_RULE = table("pulling")["jam"]


class JamRisk(StrEnum):
    """How likely three equal conductors are to wedge."""

    TRIANGLE = "none-in-a-triangle"
    UNLIKELY = "unlikely"
    SERIOUS = "serious"
    CRADLE = "none-in-a-cradle"


class JamRatio(Struct, frozen=True):
    """
    Bore against conductor, for three equal single conductors.

    Args:
        ratio: D/d, as the code's note has it.
        ratio_with_ovality: 1.05 D/d, as cable makers have it: a bend leaves the bore oval.
        risk: Serious where either lies in the band.
        fits: Whether three of them are allowed in the raceway at all.
        bore: Inside diameter of the raceway [in].
        diameter: Of one conductor with its insulation [in].
    """

    ratio: float
    ratio_with_ovality: float
    risk: JamRisk
    fits: bool
    bore: float
    diameter: float


@steps(ratio="", ratio_with_ovality="")
def jam_ratio(raceway: str, trade_size: str, insulation: str, conductor_size: str) -> JamRatio:
    """
    The jam ratio of three equal single conductors; it says nothing for other numbers of them.

    Args:
        raceway: "emt", "rmc" or "imc".
        trade_size: Its trade size, 1/2 to 4.
        insulation: Type, such as "THHN".
        conductor_size: "14" to "4/0" AWG, "250" to "500" kcmil.

    Raises:
        InputError: When a word is no choice, or Table 5 doesn't list the conductor.

    Source: NFPA 70-2023 Chapter 9 Table 1 Informational Note 2; 1.05 from cable makers' guides.

    >>> found = jam_ratio("emt", "1/2", "THHN", "8")
    >>> round(found.ratio, 2), round(found.ratio_with_ovality, 2), found.risk.value
    (2.88, 3.02, 'serious')
    """
    RACEWAY.check(raceway)
    TRADE_SIZE.check(trade_size)
    diameter = listed_dimensions(conductor_size, insulation).diameter
    bore = raceway_of(raceway, trade_size).inside_diameter
    note("bore", "fill.bore", raceway=raceway.upper(), size=trade_size, bore=f"{bore:g} in")
    note(
        "diameter", "fill.diameter", size=listed.size_name(conductor_size), type=insulation, diameter=f"{diameter:g} in"
    )
    ratio = bore / diameter
    ovality = _RULE["ovality"]
    note("ovality", "fill.ovality", ovality=ovality)
    ratio_with_ovality = ovality * bore / diameter
    note("risk", "fill.jam-band", start=Quantity(_RULE["from"], ""), end=Quantity(_RULE["to"], ""))
    risk = _risk(ratio, ratio_with_ovality)
    note("risk", f"fill.jam.{risk}", "ratio", "ratio_with_ovality", ratio=ratio, with_ovality=ratio_with_ovality)
    fits = _fits(raceway, trade_size, ConductorGroup(3, conductor_size, insulation))
    return JamRatio(ratio, ratio_with_ovality, risk, fits, bore, diameter)


def _fits(raceway: str, trade_size: str, group: ConductorGroup) -> bool:
    return raceway_fill(raceway, trade_size, (group,)).fits


def _risk(ratio: float, ratio_with_ovality: float) -> JamRisk:
    if any(_RULE["from"] <= each <= _RULE["to"] for each in (ratio, ratio_with_ovality)):
        return JamRisk.SERIOUS
    if ratio_with_ovality > _RULE["to"]:
        return JamRisk.CRADLE
    return JamRisk.TRIANGLE if ratio_with_ovality < _RULE["triangular_below"] else JamRisk.UNLIKELY


JAM_RATIO = Calculation(
    name="jam_ratio",
    function=jam_ratio,
    inputs=(RACEWAY, TRADE_SIZE, INSULATION, CONDUCTOR_SIZE),
    outputs=(
        Output("ratio"),
        Output("ratio_with_ovality"),
        Output("risk"),
        Output("fits"),
        Output("bore", "in"),
        Output("diameter", "in"),
    ),
    sources=(_RULE["source"], _RULE["ovality_source"], *raceways.SOURCES, *listed.SOURCES[:3]),
    area="pulling",
    example_inputs={"raceway": "emt", "trade_size": "1/2", "insulation": "THHN", "conductor_size": "8"},
)
