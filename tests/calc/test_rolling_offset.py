from __future__ import annotations

import pytest

from trainer.calc.catalogue import CATALOGUE
from trainer.calc.offset import offset
from trainer.calc.rolling_offset import rolling_offset


@pytest.mark.parametrize(("rise", "roll", "true"), [(3, 4, 5), (5, 12, 13), (12, 5, 13), (8, 15, 17)])
def test_the_true_offset_is_the_hypotenuse_of_rise_and_roll(rise, roll, true):
    assert rolling_offset(rise, roll, 30).true_offset == pytest.approx(true)


def test_on_the_tube_it_is_an_offset_as_deep_as_its_true_offset():
    rolling, flat = rolling_offset(3, 4, 45, distance=40, hook="measured-end"), offset(5, 45, 40, hook="measured-end")

    for name, (value, _) in CATALOGUE["offset"].results(flat).items():
        assert getattr(rolling, name) == value


def test_the_roll_angle_is_measured_from_the_plane_of_the_roll():
    assert rolling_offset(6, 6, 30).roll_angle == pytest.approx(45)
    assert rolling_offset(1, 20, 30).roll_angle == pytest.approx(2.862, abs=1e-3)


def test_the_advance_lies_along_the_run():
    assert rolling_offset(3, 4, 45).advance == pytest.approx(5)


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"rise": 0, "roll": 4, "angle": 30}, "rise"),
        ({"rise": 3, "roll": 0, "angle": 30}, "roll"),
        ({"rise": 3, "roll": 4, "angle": 90}, "angle"),
        ({"rise": 3, "roll": 4, "angle": 30, "distance": 5}, "distance"),
        ({"rise": 3, "roll": 4, "angle": 30, "hook": "up"}, "hook"),
    ],
)
def test_what_is_impossible_is_refused(values, field, refused):
    assert refused(rolling_offset, **values).field == field
