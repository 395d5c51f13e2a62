from __future__ import annotations

import pytest
from msgspec.structs import replace

from trainer.calc.catalogue import CATALOGUE
from trainer.calc.measure_shoe import measure_shoe
from trainer.calc.shoes import DEFAULT_SHOES
from trainer.calc.shoes_named import read_shoe


def test_three_readings_give_all_of_a_shoe():
    result = measure_shoe(30, 8, 13, 19.625, "1/2")

    assert (result.take_up, result.outside_gain, result.back_mark) == (5, 2.625, 2.375)
    assert result.radius == pytest.approx(4.471, abs=1e-3)


def test_the_shoe_can_be_typed_where_a_shoe_is_asked_for():
    shoe = measure_shoe(30, 8, 13.0625, 19.625, "1/2").shoe
    typed = read_shoe(str(shoe))

    assert typed == replace(shoe, radius=pytest.approx(shoe.radius, abs=1e-4))
    assert shoe.take_up == 5.0625


@pytest.mark.parametrize("size", list(DEFAULT_SHOES))
def test_a_usual_shoe_is_found_again(size):
    usual = DEFAULT_SHOES[size]
    stub, stick = 8 + usual.take_up, 60
    result = measure_shoe(stick, 8, stub, stick + usual.outside_gain - stub, size)

    assert result.radius == pytest.approx(usual.radius)
    assert result.back_mark == pytest.approx(usual.back_mark)


def test_a_sixteenth_in_the_legs_moves_the_radius_by_what_is_told():
    right, wrong = measure_shoe(30, 8, 13, 19.625, "1/2"), measure_shoe(30, 8, 13, 19.6875, "1/2")

    assert wrong.radius - right.radius == pytest.approx(right.radius_unsure)


@pytest.mark.parametrize(("other_leg", "told"), [(19.375, True), (19.625, False)])
def test_a_radius_below_the_least_one_is_told(other_leg, told):
    """Chapter 9 Table 2, one-shot column: 4 in for trade size 1/2."""
    readings = {"stick": 30.0, "mark": 8.0, "stub": 13.0, "other_leg": other_leg, "trade_size": "1/2"}
    _, steps = CATALOGUE["measure_shoe"].trace(readings)

    assert ("measure_shoe.too-tight" in [step.note.id for step in steps if step.note]) == told


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"stick": 0}, "stick"),
        ({"mark": 12.5}, "mark"),
        ({"mark": 20}, "mark"),
        ({"stub": 0}, "stub"),
        ({"other_leg": 17}, "other_leg"),
        ({"other_leg": 18}, "other_leg"),
        ({"other_leg": 29}, "other_leg"),
        ({"stick": 14, "other_leg": 14}, "other_leg"),
        ({"trade_size": "2"}, "trade_size"),
    ],
)
def test_readings_that_belong_to_no_bend_are_refused(values, field, refused):
    right = {"stick": 30, "mark": 8, "stub": 13, "other_leg": 19.625, "trade_size": "1/2"}

    assert refused(measure_shoe, **{**right, **values}).field == field
