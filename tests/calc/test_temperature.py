"""Temperatures carry F or C; a change of temperature is not a temperature."""

import pytest

from trainer.calc.message import InputError
from trainer.calc.temperature import read_rating, read_temperature, read_temperature_change


@pytest.mark.parametrize(
    ("text", "celsius"),
    [("86 F", 30), ("86°F", 30), ("30 deg C", 30), ("30℃", 30), ("-40 F", -40), ("−40 c", -40), ("+32 fahrenheit", 0)],
)
def test_a_temperature_is_read_in_celsius(text, celsius):
    assert read_temperature(text) == celsius


@pytest.mark.parametrize(("text", "fahrenheit"), [("100 F", 100), ("55 5/9 C", 100), ("50 C", 90), ("-40 F", -40)])
def test_a_change_has_no_zero_to_shift(text, fahrenheit):
    assert read_temperature_change(text) == fahrenheit


@pytest.mark.parametrize(("text", "celsius"), [("75", 75), ("75 C", 75), ("75°C", 75), ("167 F", 75)])
def test_a_rating_alone_is_celsius(text, celsius):
    assert read_rating(text) == celsius


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("86", "temperature.which-scale"),
        ("86 K", "number.unknown-unit"),
        ("86 in", "number.unknown-unit"),
        ("F", "number.no-digits"),
        ("", "number.empty"),
        ("--86 F", "number.below-zero"),
        ("86 F 86 F", "number.not-understood"),
        ("1e9 F", "number.exponent"),
        ("8" * 50 + " F", "number.too-long"),
        ("nan F", "number.no-digits"),
    ],
)
def test_what_is_no_temperature_is_refused(text, reason):
    for read in (read_temperature, read_temperature_change):
        with pytest.raises(InputError) as refused:
            read(text)
        assert refused.value.reason.id == reason
        assert read(refused.value.example) is not None
