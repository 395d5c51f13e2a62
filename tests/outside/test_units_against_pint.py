"""
Units, and what expansion makes of them, against pint (any version of its default registry, which follows NIST SP 811).

Checked: computed.
"""

from __future__ import annotations

from fractions import Fraction

import pint
import pytest

from trainer.calc.expansion import thermal_change
from trainer.calc.length import read_length
from trainer.calc.tables import table
from trainer.calc.temperature import read_temperature, read_temperature_change
from trainer.calc.units import UNITS, core_unit

EXACT = pint.UnitRegistry(non_int_type=Fraction)
REGISTRY = pint.UnitRegistry()

#: Our name of a unit, and pint's.
NAMES = {
    "in": "inch",
    "ft": "foot",
    "mm": "millimeter",
    "cm": "centimeter",
    "m": "meter",
    "deg": "degree",
    "sq in": "inch ** 2",
    "sq mm": "millimeter ** 2",
    "cu in": "inch ** 3",
    "cu cm": "centimeter ** 3",
    "lbf": "pound_force",
    "A": "ampere",
    "V": "volt",
    "lb/ft": "pound / foot",
    "kg/m": "kilogram / meter",
    "lbf/ft": "pound_force / foot",
    "cmil": "circular_mil",
    "kcmil": "kilocircular_mil",
    "%": "percent",
}


@pytest.mark.parametrize("unit", NAMES)
def test_every_unit_has_the_factor_that_pint_gives_it(unit):
    ours = UNITS[unit]
    one = EXACT.Quantity(Fraction(1), NAMES[unit])

    assert float(one.to(NAMES[core_unit(ours.quantity).id]).magnitude) == pytest.approx(float(ours.factor), rel=1e-12)


def test_no_unit_of_measure_is_left_out():
    counted = {name for name, unit in UNITS.items() if unit.quantity in {name, "count", "number"}}
    temperatures = {"°C", "°F"}

    assert set(UNITS) - counted - temperatures == set(NAMES)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("3 ft 4-1/2 in", "3 foot + 4.5 inch"),
        ("1028 mm", "1028 millimeter"),
        ("102.87 cm", "102.87 centimeter"),
        ("1.0287 m", "1.0287 meter"),
        ("7/3 ft", "7/3 foot"),
    ],
)
def test_a_typed_length_is_what_pint_reads(text, said):
    assert float(read_length(text).inches) == pytest.approx(REGISTRY(said).to("inch").magnitude, rel=1e-12)


@pytest.mark.parametrize("fahrenheit", [-40, 14, 32, 86, 100, 212])
def test_temperatures_are_converted_as_pint_does(fahrenheit):
    there = REGISTRY.Quantity(fahrenheit, "degF").to("degC").magnitude

    assert read_temperature(f"{fahrenheit} F") == pytest.approx(there, abs=1e-9)


@pytest.mark.parametrize("celsius", [5, 27.5, 50])
def test_a_change_of_temperature_has_no_zero_to_shift(celsius):
    there = REGISTRY.Quantity(celsius, "delta_degC").to("delta_degF").magnitude

    assert read_temperature_change(f"{celsius} C") == pytest.approx(there, abs=1e-9)


@pytest.mark.parametrize("material", ["steel", "aluminum", "pvc"])
@pytest.mark.parametrize(("metres", "celsius"), [(30.48, 50), (7.3, 22.2), (100, -35)])
def test_expansion_worked_in_metric_is_the_same(material, metres, celsius):
    coefficient = REGISTRY.Quantity(table("expansion")["coefficients"][material], "1 / delta_degF")
    change = (coefficient * REGISTRY.Quantity(metres, "meter") * REGISTRY.Quantity(celsius, "delta_degC")).to("inch")

    inches = REGISTRY.Quantity(metres, "meter").to("inch").magnitude
    ours = thermal_change(inches, celsius * 1.8, material).change
    assert ours == pytest.approx(change.magnitude, rel=1e-9)
