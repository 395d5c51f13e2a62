"""
Pulling tension against numerical integration along the run; published figures: test_published.py.
"""

from math import cos, exp, radians, sin

import pytest

from trainer.calc.pulling import pulling_tension
from trainer.calc.pulling_sections import read_sections
from trainer.calc.wire_lists import read_conductors

ONE = read_conductors("1 #4/0 THHN")


def tension(text, friction, weight=1.2, feed=0.0):
    return pulling_tension(read_sections(text), friction, weight, ONE, feed_tension=feed).tension


def integrated(rate, start, over, slices=4000):
    """Fourth-order steps of d(value)/d(place) = rate(value): a second method without a closed form."""
    value, step = start, over / slices
    for _ in range(slices):
        first = rate(value)
        second = rate(value + step / 2 * first)
        third = rate(value + step / 2 * second)
        fourth = rate(value + step * third)
        value += step / 6 * (first + 2 * second + 2 * third + fourth)
    return value


@pytest.mark.parametrize("angle", [11.25, 45, 90, 180])
@pytest.mark.parametrize("friction", [0.2, 0.5])
def test_a_bend_is_friction_added_up_over_small_angles(angle, friction):
    by_slices = integrated(lambda tension: friction * tension, 100.0, radians(angle))

    assert tension(f"{angle} bend r 2 ft", friction, feed=100.0) == pytest.approx(by_slices, rel=1e-9)


@pytest.mark.parametrize(
    ("text", "slope"), [("100 ft", 0), ("100 ft up 30 deg", 30), ("100 ft up", 90), ("100 ft down 10 deg", -10)]
)
def test_a_straight_piece_is_weight_and_friction_added_up_over_small_lengths(text, slope):
    rise, press = sin(radians(slope)), cos(radians(slope))
    by_slices = integrated(lambda _: 1.2 * (rise + 0.35 * press), 100.0, 100)

    assert tension(text, 0.35, feed=100.0) == pytest.approx(by_slices, rel=1e-9)


def test_leaving_the_weight_in_the_bend_out_costs_little_where_the_tension_is_high():
    """
    A level bend with the weight in it: the wall carries sqrt(T^2 + (w R)^2) for each radian. Against that, the simple
    form misses by under 0.1 % at T = 20 w R, and by 8 % at T = w R: why it is called an estimate.
    """
    weight, radius, friction = 1.2, 2.0, 0.35

    def missed(times):
        feed = times * weight * radius
        true = integrated(lambda pull: friction * (pull**2 + (weight * radius) ** 2) ** 0.5, feed, radians(90))
        return 1 - feed * exp(friction * radians(90)) / true

    assert 0 < missed(20) < 0.001
    assert 0.05 < missed(1) < 0.2
