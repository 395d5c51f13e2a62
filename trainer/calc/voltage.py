"""Voltage drop of a circuit, by the constant K and by the resistance of Table 8. Volts and percent."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

from trainer.calc import conductors as listed
from trainer.calc.calculation import Calculation, Output
from trainer.calc.conductors import TABLE_SIZES, size_name
from trainer.calc.inputs import Input, Kind
from trainer.calc.length import write_length
from trainer.calc.message import Message, Quantity
from trainer.calc.tables import table
from trainer.calc.trace import note, steps
from trainer.calc.trig import sqrt

__all__ = ["VOLTAGE_DROP", "VoltageDrop", "voltage_drop"]

_TABLE = table("voltage")
_CONSTANTS: Mapping[str, float] = _TABLE["constant"]
_LIMITS: Mapping[str, int] = _TABLE["limits"]

CURRENT = Input("current", Kind.NUMBER, "16 A", "A", above=0, most=10_000)
LENGTH = Input("length", Kind.LENGTH, "120 ft", "in", above=0, most=600_000)
CONDUCTOR_SIZE = Input("conductor_size", Kind.CONDUCTOR_SIZE, "12", choices=TABLE_SIZES)
MATERIAL = Input("material", Kind.CHOICE, "copper", choices=("copper", "aluminum"))
VOLTS = Input("volts", Kind.NUMBER, "120 V", "V", above=0, most=1_000_000)
PHASES = Input("phases", Kind.COUNT, "1", "count", least=1, most=3)


class VoltageDrop(Struct, frozen=True):
    """
    What is lost on the way, by two methods that differ by a percent or so.

    Args:
        drop: By the constant K [V].
        percent: Of the source voltage, by the constant K.
        drop_by_resistance: By the resistance of Table 8, stranded at 75 C [V].
        percent_by_resistance: Of the source voltage, by that resistance.
        left: What arrives, by the constant K [V].
    """

    drop: float
    percent: float
    drop_by_resistance: float
    percent_by_resistance: float
    left: float


@steps(
    drop="V",
    percent="%",
    drop_by_resistance="V",
    percent_by_resistance="%",
    left="V",
)
def voltage_drop(
    current: float, length: float, conductor_size: str, material: str, volts: float, *, phases: int
) -> VoltageDrop:
    """
    The voltage that a circuit loses; direct-current resistance only, so large conductors lose more than this.

    Args:
        current: In the conductors [A].
        length: One way, from source to load [in]; the way back is in the formula.
        conductor_size: "14" to "4/0" AWG, "250" to "500" kcmil.
        material: "copper" or "aluminum".
        volts: At the source, between the conductors [V].
        phases: 1 (two conductors there and back, direct current too) or 3.

    Raises:
        InputError: When a value lies outside its range, or more would be lost than there is.

    Source: published trade calculations; NFPA 70-2023 Chapter 9 Table 8.

    >>> round(voltage_drop(16, 120 * 12, "12", "copper", 120, phases=1).drop, 2)
    7.59
    """
    for given, value in zip(
        VOLTAGE_DROP.inputs, (current, length, conductor_size, material, volts, phases), strict=True
    ):
        given.check(value)
    feet, ways = length / 12, _ways(phases, length)
    circular_mils, constant = listed.circular_mils(conductor_size), _CONSTANTS[material]
    note("circular_mils", "voltage.circular-mils", size=size_name(conductor_size), area=circular_mils)
    note("constant", "voltage.constant", material=material, constant=constant)
    drop = ways * constant * current * feet / circular_mils
    percent = 100 * drop / volts
    left = volts - drop
    if left <= 0:
        raise LENGTH.refuse(Message("voltage.nothing-left", {"drop": Quantity(drop, "V")}), LENGTH.written(length))
    note("percent", "voltage.limits", branch=_LIMITS["branch_circuit"], in_all=_LIMITS["in_all"])
    resistance = listed.resistance(conductor_size, material)
    params = {"size": size_name(conductor_size), "material": material, "resistance": f"{resistance:g}"}
    note("resistance", "voltage.resistance", **params)
    drop_by_resistance = ways * current * resistance * feet / 1000
    percent_by_resistance = 100 * drop_by_resistance / volts
    return VoltageDrop(drop, percent, drop_by_resistance, percent_by_resistance, left)


@steps()
def _ways(phases: int, length: float) -> float:
    """How often the one-way length [in] counts."""
    if phases == 2:
        raise PHASES.refuse(Message("voltage.two-phases"), "2")
    sentence = "voltage.three-phases" if phases == 3 else "voltage.one-phase"
    note("ways", sentence, feet=write_length(length, feet=True))
    return sqrt(3) if phases == 3 else 2.0


VOLTAGE_DROP = Calculation(
    name="voltage_drop",
    function=voltage_drop,
    inputs=(CURRENT, LENGTH, CONDUCTOR_SIZE, MATERIAL, VOLTS, PHASES),
    outputs=(
        Output("drop", "V"),
        Output("percent", "%"),
        Output("drop_by_resistance", "V", "resistance"),
        Output("percent_by_resistance", "%", "resistance"),
        Output("left", "V"),
    ),
    sources=(
        f"K 12.9 copper, 21.2 aluminum: {_TABLE['constant']['source']}",
        f"resistance: {table('conductors')['properties']['source']}",
        f"3 % and 5 %: {_TABLE['limits']['source']}, from memory",
    ),
    area="conductors",
    example_inputs={
        "current": "16 A",
        "length": "120 ft",
        "conductor_size": "10",
        "material": "copper",
        "volts": "120 V",
        "phases": "1",
    },
)
