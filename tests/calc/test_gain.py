from __future__ import annotations

import math

import pytest

from trainer.calc.gain import gain


def test_a_90_gains_0_4292_radii():
    result = gain(10, 90)

    assert (result.gain, result.developed_length, result.setback) == pytest.approx((4.292, 15.708, 10), abs=1e-3)
    assert result.outside_gain is None


def test_measured_to_the_back_a_90_gains_one_diameter_more():
    assert gain(4.5, 90, 0.706).outside_gain == pytest.approx(gain(4.5, 90).gain + 0.706)


@pytest.mark.parametrize("angle", [1, 22.5, 45, 120, 179])
def test_the_gain_is_two_setbacks_less_the_arc(angle):
    result = gain(5, angle)

    assert result.developed_length == pytest.approx(5 * math.radians(angle))
    assert result.gain == pytest.approx(2 * result.setback - result.developed_length)


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"radius": 0}, "radius"),
        ({"angle": 0}, "angle"),
        ({"angle": 180}, "angle"),
        ({"outside_diameter": 0}, "outside_diameter"),
        ({"outside_diameter": 9.1}, "outside_diameter"),
    ],
)
def test_what_is_impossible_is_refused(values, field, refused):
    assert refused(gain, **{"radius": 4.5, "angle": 90, **values}).field == field
