"""How far a run moves between winter and summer, and what of it is still to come on the day it is put up. Inches."""

from __future__ import annotations

from msgspec import Struct

from trainer.calc.calculation import Calculation, Output
from trainer.calc.expansion import LENGTH, MATERIAL, THERMAL_CHANGE, thermal_change
from trainer.calc.inputs import Input, Kind
from trainer.calc.message import Message, Quantity
from trainer.calc.trace import note, steps
from trainer.calc.trig import round_up

__all__ = ["EXPANSION_SETTING", "ExpansionSetting", "expansion_setting", "fahrenheit"]

COLDEST = Input("coldest", Kind.TEMPERATURE, "-10 F", "°C", least=-100, most=150)
INSTALLED = Input("installed", Kind.TEMPERATURE, "60 F", "°C", least=-100, most=150)
HOTTEST = Input("hottest", Kind.TEMPERATURE, "130 F", "°C", least=-100, most=150)
TRAVEL = Input("travel", Kind.LENGTH, "4 in", "in", optional=True, above=0, most=24)


class ExpansionSetting(Struct, frozen=True):
    """
    The movement of a run and its two parts.

    Args:
        movement: From the coldest to the hottest day [in].
        growth: What the run still grows from today to the hottest day: the least that the fitting must still close [in].
        shrinkage: What it still shrinks to the coldest day: the least that the fitting must still open [in].
        fittings: How many expansion fittings of this travel take it all; None without a travel.
    """

    movement: float
    growth: float
    shrinkage: float
    fittings: int | None


@steps(growth="in", shrinkage="in", fittings="fittings")
def expansion_setting(
    length: float,
    material: str,
    *,
    coldest: float,
    installed: float,
    hottest: float,
    travel: float | None = None,
) -> ExpansionSetting:
    """
    What a run does from the coldest to the hottest day, split at the temperature of the day it is put up.

    Args:
        length: Of the straight run from where it is held fast to the expansion fitting [in].
        material: "steel" (EMT, IMC, RMC), "aluminum" (EMT, RMC) or "pvc".
        coldest: That the raceway itself gets [C].
        installed: Of the raceway on the day of the work [C].
        hottest: That the raceway itself gets, in the sun more than the air [C].
        travel: Of one expansion fitting, from open to closed [in].

    Raises:
        InputError: When a value lies outside its range, or the day is not between coldest and hottest.

    Source: NFPA 70-2023 300.7(B) Informational Note 1; the rest is subtraction.

    >>> found = expansion_setting(100 * 12, "pvc", coldest=-20.0, installed=30.0, hottest=55.0)
    >>> round(found.movement, 2), round(found.growth, 2), round(found.shrinkage, 2)
    (5.48, 1.83, 3.65)
    """
    given = (length, material, coldest, installed, hottest, travel)
    for one, value in zip(EXPANSION_SETTING.inputs, given, strict=True):
        one.check(value)
    _check_order(coldest, installed, hottest)
    swing = fahrenheit(hottest) - fahrenheit(coldest)
    rise = fahrenheit(hottest) - fahrenheit(installed)
    note("swing", "expansion.swing", swing=_degrees(swing))
    movement = thermal_change(length, swing, material).change
    note("movement", "expansion.movement", "swing", "change", movement=Quantity(movement, "in"))
    note("rise", "expansion.rise", rise=_degrees(rise))
    growth = movement * rise / swing
    shrinkage = movement - growth
    if travel is None:
        return ExpansionSetting(movement, growth, shrinkage, None)
    fittings = round_up(movement / travel)
    return ExpansionSetting(movement, growth, shrinkage, fittings)


def fahrenheit(celsius: float) -> float:
    """
    A temperature in F of one in C.

    >>> fahrenheit(-40.0)
    -40.0
    """
    return celsius * 9 / 5 + 32


def _degrees(change: float) -> Quantity:
    return Quantity(round(change, 6), "°F")


def _check_order(coldest: float, installed: float, hottest: float) -> None:
    if coldest >= hottest:
        raise HOTTEST.refuse(Message("expansion.no-swing"), f"{hottest:g}")
    if not coldest <= installed <= hottest:
        raise INSTALLED.refuse(Message("expansion.day-outside"), f"{installed:g}")


EXPANSION_SETTING = Calculation(
    name="expansion_setting",
    function=expansion_setting,
    inputs=(LENGTH, MATERIAL, COLDEST, INSTALLED, HOTTEST, TRAVEL),
    outputs=(
        Output("movement", "in"),
        Output("growth", "in"),
        Output("shrinkage", "in"),
        Output("fittings", "fittings", optional=True),
    ),
    sources=(*THERMAL_CHANGE.sources[:1], "what is still to come: subtraction"),
    area="temperature",
    example_inputs={
        "length": "100 ft",
        "material": "pvc",
        "coldest": "-10 F",
        "installed": "60 F",
        "hottest": "130 F",
        "travel": "4 in",
    },
)
