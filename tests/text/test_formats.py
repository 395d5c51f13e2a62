"""Values as people write them."""

from __future__ import annotations

import pytest

from trainer.calc.message import Quantity
from trainer.text.formats import COUNTED, FORMATS, quantity
from trainer.text.sentences import english


@pytest.mark.parametrize(
    ("name", "value", "written"),
    [
        ("length", 12.375, "12-3/8 in"),
        ("length", 0.0625, "1/16 in"),
        ("length", 10.4527, "10-7/16 in"),
        ("feet", 40.5, "3 ft 4-1/2 in"),
        ("feet", 144, "12 ft"),
        ("inches", 10.4527, "10.453 in"),
        ("angle", 22.5, "22.5°"),
        ("angle", 30.0, "30°"),
        ("count", 4.0, "4"),
        ("number", 2.61313, "2.613"),
        ("percent", 40.0, "40%"),
        ("area", 0.0133, "0.0133 sq in"),
        ("volume", 2.25, "2.25 cu in"),
        ("trade_size", "3/4", "3/4"),
        ("text", "wet", "wet"),
        ("words", "wet-fittings", "wet fittings"),
    ],
)
def test_each_format_writes_a_value_as_the_trade_does(name, value, written):
    assert FORMATS[name](value) == written


@pytest.mark.parametrize("name", [name for name in FORMATS if name not in {"text", "trade_size", "words"}])
@pytest.mark.parametrize("value", ["12", True, None])
def test_a_number_format_refuses_what_is_no_number(name, value):
    with pytest.raises(TypeError, match="a number"):
        FORMATS[name](value)


@pytest.mark.parametrize("name", ["text", "trade_size", "words"])
def test_a_word_format_refuses_a_number_because_it_needs_a_format_of_its_own(name):
    with pytest.raises(TypeError, match="name a format"):
        FORMATS[name](12.0)


@pytest.mark.parametrize(
    ("value", "unit", "written"),
    [
        (1 / 32, "in", "1/32 in"),
        (10.4527, "in", "10-7/16 in"),
        (12, "ft", "12 ft"),
        (1028.0, "mm", "1028 mm"),
        (30, "deg", "30°"),
        (40, "%", "40%"),
        (37.2614, "%", "37.26%"),
        (173.46, "lbf/ft", "173.5 lb/ft"),
        (0.304, "sq in", "0.304 sq in"),
        (0.0133, "sq in", "0.0133 sq in"),
        (25.3125, "cu in", "25.3125 cu in"),
        (2 / 3, "lbf", "0.7 lb"),
        (1, "straps", "1 strap"),
        (4, "straps", "4 straps"),
        (4, "count", "4"),
        (2.6, "", "2.6"),
    ],
)
def test_a_quantity_is_written_with_its_unit(value, unit, written):
    assert quantity(Quantity(value, unit)) == written


def test_every_counted_thing_has_a_word_for_one_and_for_many():
    assert {"straps", "sticks", "pieces"} <= COUNTED
    assert {f"unit.{noun}.{form}" for noun in COUNTED for form in ("one", "many")} <= english().keys()
