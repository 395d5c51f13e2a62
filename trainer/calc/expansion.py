"""How much longer or shorter a raceway becomes with the temperature. Inches and degrees F."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

from trainer.calc.calculation import Calculation, Output
from trainer.calc.inputs import Input, Kind
from trainer.calc.message import Quantity
from trainer.calc.tables import table
from trainer.calc.trace import note, steps

__all__ = ["THERMAL_CHANGE", "ThermalChange", "thermal_change"]

_TABLE = table("expansion")
_COEFFICIENTS: Mapping[str, float] = _TABLE["coefficients"]
_SHORTCUT: Mapping[str, float] = _TABLE["shortcut"]
_FITTING_FROM: float = _TABLE["fitting"]["pvc"]

LENGTH = Input("length", Kind.LENGTH, "100 ft", "in", above=0, most=600_000)
TEMPERATURE_CHANGE = Input("temperature_change", Kind.TEMPERATURE_CHANGE, "100 F", "°F", least=-300, most=300)
MATERIAL = Input("material", Kind.CHOICE, "steel", choices=("steel", "aluminum", "pvc"))
GIVEN_IN = Input("given_in", Kind.CHOICE, "celsius", optional=True, choices=("fahrenheit", "celsius"))


class ThermalChange(Struct, frozen=True):
    """
    The change of length, below 0 for a cooling.

    Args:
        change: By the coefficient [in].
        change_by_table: By the code note's share of the table value for PVC [in]; some 4 % more for metal.
        expansion_fitting: Whether PVC between fixed points takes an expansion fitting; None for metal, for which the
            code names no length.
    """

    change: float
    change_by_table: float
    expansion_fitting: bool | None


@steps(change="in", change_by_table="in")
def thermal_change(
    length: float, temperature_change: float, material: str, *, given_in: str = "fahrenheit"
) -> ThermalChange:
    """
    The change of length of a straight run.

    Args:
        length: Of the run [in].
        temperature_change: From the coldest to the hottest [F]; a change, not a temperature, so 50 C is 90 F.
        material: "steel" (EMT, IMC, RMC), "aluminum" (EMT, RMC) or "pvc".
        given_in: The scale of the drawing or tape, "fahrenheit" or "celsius"; of Celsius a step says how it was turned.

    Raises:
        InputError: When a value lies outside its range.

    Source: NFPA 70-2023 300.7(B) Informational Note 1; 352.44 for PVC.

    >>> round(thermal_change(100 * 12, 100, "steel").change, 2)
    0.78
    """
    for given, value in zip(THERMAL_CHANGE.inputs, (length, temperature_change, material, given_in), strict=True):
        given.check(value)
    coefficient = _COEFFICIENTS[material]
    named = "expansion.coefficient-pvc" if material == "pvc" else "expansion.coefficient"
    note("coefficient", named, material=material, coefficient=f"{coefficient * 1e6:.1f}")
    if given_in == "celsius":
        degrees, celsius = Quantity(temperature_change, "°F"), Quantity(round(temperature_change / 1.8, 6), "°C")
        note("coefficient", "expansion.celsius", fahrenheit=degrees, celsius=celsius)
    change = coefficient * length * temperature_change
    share, per_table = _SHORTCUT[material], _SHORTCUT["pvc_table"]
    note("share", "expansion.share", material=material, share=share, per_table=per_table)
    change_by_table = share * per_table * length / 1200 * temperature_change / 100
    fitting = abs(change) >= _FITTING_FROM if material == "pvc" else None
    said = "expansion.pvc" if material == "pvc" else "expansion.metal"
    note("expansion_fitting", said, "change", least=Quantity(_FITTING_FROM, "in"))
    return ThermalChange(change, change_by_table, fitting)


THERMAL_CHANGE = Calculation(
    name="thermal_change",
    function=thermal_change,
    inputs=(LENGTH, TEMPERATURE_CHANGE, MATERIAL, GIVEN_IN),
    outputs=(
        Output("change", "in"),
        Output("change_by_table", "in"),
        Output("expansion_fitting", optional=True),
    ),
    sources=(
        _TABLE["coefficients"]["source"],
        f"shares: {_TABLE['shortcut']['source']}",
        f"PVC between fixed points: {_TABLE['fitting']['source']}",
    ),
    area="temperature",
    example_inputs={"length": "100 ft", "temperature_change": "100 F", "material": "steel"},
)
