from __future__ import annotations

import math

import pytest

from trainer.calc import trig


@pytest.mark.parametrize("angle", [5, 10, 22.5, 30, 45, 60, 89])
def test_the_functions_take_degrees_and_agree_with_each_other(angle):
    assert trig.sin(angle) ** 2 + trig.cos(angle) ** 2 == pytest.approx(1)
    assert trig.tan(angle) == pytest.approx(trig.sin(angle) / trig.cos(angle))
    assert (trig.csc(angle), trig.sec(angle)) == pytest.approx((1 / trig.sin(angle), 1 / trig.cos(angle)))
    assert trig.cot(angle) * trig.tan(angle) == pytest.approx(1)
    assert trig.asin(trig.sin(angle)) == pytest.approx(angle)
    assert trig.acos(trig.cos(angle)) == pytest.approx(angle)
    assert trig.atan(trig.tan(angle)) == pytest.approx(angle)


def test_known_values():
    assert trig.sin(30) == pytest.approx(0.5)
    assert trig.tan(45) == pytest.approx(1)
    assert trig.csc(30) == pytest.approx(2)
    assert trig.sqrt(2) == math.sqrt(2)
    assert trig.pi == math.pi


def test_what_has_no_value_is_an_error():
    with pytest.raises(ZeroDivisionError):
        trig.csc(0)
    with pytest.raises(ValueError, match="math domain"):
        trig.asin(2)


def test_rounding_to_a_count_forgives_the_last_bits_of_a_float():
    assert trig.round_up(0.1 * 3 / 0.1) == 3
    assert trig.round_up(3.001) == 4
    assert trig.round_down((0.3 - 0.1) / 0.1) == 2
    assert trig.round_down(2.999) == 2
