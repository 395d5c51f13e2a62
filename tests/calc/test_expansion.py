"""The change of length with the temperature, by coefficient and by the note's shortcut."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.calc.expansion import THERMAL_CHANGE, thermal_change
from trainer.calc.message import InputError, Quantity

MATERIALS = ("steel", "aluminum", "pvc")


def test_a_change_in_celsius_is_nine_fifths_as_many_fahrenheit():
    typed = {"length": "100 ft", "material": "steel"}

    assert THERMAL_CHANGE.solve({**typed, "temperature_change": "50 C"}) == THERMAL_CHANGE.solve(
        {**typed, "temperature_change": "90 F"}
    )


def test_a_cooling_shortens():
    assert thermal_change(1200, -100, "aluminum").change == -thermal_change(1200, 100, "aluminum").change < 0


def test_the_shortcut_comes_out_some_four_percent_higher_for_metal():
    for material in ("steel", "aluminum"):
        found = thermal_change(1200, 100, material)
        assert found.change_by_table / found.change == pytest.approx(1.04, abs=0.005)


@pytest.mark.parametrize(("feet", "fitting"), [(6, False), (7, True), (100, True)])
def test_pvc_takes_a_fitting_from_a_quarter_inch_on(feet, fitting):
    assert thermal_change(feet * 12, 100, "pvc").expansion_fitting == fitting
    assert thermal_change(feet * 12, -100, "pvc").expansion_fitting == fitting


def test_for_metal_the_code_names_no_length():
    assert thermal_change(1200, 100, "steel").expansion_fitting is None


@pytest.mark.parametrize(
    ("length", "change", "material", "field"),
    [
        (0, 100, "steel", "length"),
        (1200, 301, "steel", "temperature_change"),
        (1200, -301, "steel", "temperature_change"),
        (1200, 100, "copper", "material"),
    ],
)
def test_what_lies_outside_its_range_is_refused_by_its_name(length, change, material, field):
    with pytest.raises(InputError) as refused:
        thermal_change(length, change, material)

    assert refused.value.field == field


@given(st.floats(1, 10_000), st.floats(-150, 150), st.sampled_from(MATERIALS))
def test_twice_the_run_moves_twice_as_far(length, change, material):
    once, twice = thermal_change(length, change, material), thermal_change(2 * length, change, material)

    assert twice.change == pytest.approx(2 * once.change)
    assert twice.change_by_table == pytest.approx(2 * once.change_by_table)


@pytest.mark.parametrize(
    ("scale", "told"), [({"given_in": "celsius"}, True), ({"given_in": "fahrenheit"}, False), ({}, False)]
)
def test_only_a_change_that_was_given_in_celsius_is_told_in_both_scales(scale, told):
    """90 °F is 50 °C to the dot, and still nobody spoke of Celsius."""
    given = {"length": 1920.0, "temperature_change": 90.0, "material": "pvc"} | scale
    notes = {step.note.id: step.note for step in THERMAL_CHANGE.trace(given)[1] if step.note}

    assert ("expansion.celsius" in notes) is told
    assert "expansion.coefficient-pvc" in notes
    if told:
        assert notes["expansion.celsius"].params["celsius"] == Quantity(50.0, "°C")
