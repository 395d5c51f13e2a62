from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.calc.message import InputError
from trainer.calc.reading import Reading, read_count, read_number
from trainer.calc.units import UNITS


@pytest.mark.parametrize("text", ["22.5", "22.5°", "22 1/2 deg", "22-1/2 degrees", "22½º", "22.5 deg.", "45/2"])
def test_an_angle_is_read_in_every_way_of_writing_it(text):
    assert read_number(text, "deg").value == 22.5


@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        ("5/8", "", 0.625),
        ("2.6", "", 2.6),
        ("40 %", "%", 40),
        ("40 per cent", "%", 40),
        ("0.304 sq in", "sq in", 0.304),
        ("645.16 mm²", "sq in", 1),
        ("645.16 mm2", "sq in", 1),
        ("20.25 in3", "cu in", 20.25),
        ("120 lbs", "lbf", 120),
        ("400 lb/ft", "lbf/ft", 400),
        ("2.1 lb/ft", "lb/ft", 2.1),
        ("3' 4\"", "in", 40),
        ("40 in", "ft", 40 / 12),
        ("1,200", "lbf", 1200),
        ("26,240 cmil", "cmil", 26240),
    ],
)
def test_a_number_comes_in_the_unit_that_is_asked_for(text, unit, value):
    assert read_number(text, unit).value == pytest.approx(value)


def test_it_says_whether_and_which_unit_was_typed():
    assert read_number("30", "deg") == Reading(30.0, "30", "deg", False)
    assert read_number("30°", "deg") == Reading(30.0, "30°", "deg", True)
    assert read_number("30 mm", "in").unit == "mm"


@pytest.mark.parametrize(
    ("text", "unit", "reason"),
    [
        ("1,5", "", "number.comma"),
        ("1e3", "", "number.exponent"),
        ("nan", "", "number.no-digits"),
        ("30 in", "deg", "number.other-quantity"),
        ("30 deg", "", "number.other-quantity"),
        ("30 gradians", "deg", "number.unknown-unit"),
        ("22° 30'", "deg", "number.not-understood"),
        ("-30", "deg", "number.below-zero"),
        ("", "deg", "number.empty"),
    ],
)
def test_what_is_no_such_number_is_refused_with_its_reason(text, unit, reason, refused):
    assert refused(read_number, text, unit).reason.id == reason


@pytest.mark.parametrize("text", ["3", "3 straps", "3 strap", "3.0", "6/2"])
def test_a_count_is_read_with_or_without_what_is_counted(text):
    assert read_count(text, "straps").value == 3


@pytest.mark.parametrize(
    ("text", "reason"),
    [("2.5", "number.not-whole"), ("3 sticks", "number.other-quantity"), ("three", "number.no-digits")],
)
def test_what_is_no_such_count_is_refused(text, reason, refused):
    error = refused(read_count, text, "straps")

    assert error.reason.id == reason
    assert error.accepted.id == "number.accepted.count"


@given(st.text(max_size=45), st.sampled_from(sorted(UNITS)), st.sampled_from([read_number, read_count]))
def test_no_text_raises_anything_but_an_input_error(outcome, text, unit, reader):
    read = outcome(reader, text, unit)

    assert read.given == text if isinstance(read, InputError) else read.value >= 0


@pytest.mark.parametrize("unit", sorted(UNITS))
def test_each_example_in_an_error_is_one_that_is_taken(unit, refused):
    assert read_number(refused(read_number, "", unit).example, unit).value > 0
