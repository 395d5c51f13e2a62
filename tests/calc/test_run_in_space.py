from __future__ import annotations

from random import Random

import pytest

from trainer.calc.layout_claims import CLAIMS
from trainer.calc.layout_draw import DRAWS
from trainer.calc.run_in_space import run_in_space
from trainer.calc.ways import read_ways


def of(text):
    return run_in_space(read_ways(text))


@pytest.mark.parametrize(
    ("legs", "roll"),
    [
        ("20 ahead, 20 up, 20 back", 0),
        ("20 ahead, 20 up, 20 ahead", 180),
        ("20 ahead, 20 up, 20 left", 90),
        ("20 ahead, 20 up, 20 right", -90),
        ("20 up, 20 ahead, 20 left", -90),
        ("20 up, 20 ahead, 20 right", 90),
        ("20 up, 20 ahead, 20 down", 0),
    ],
)
def test_the_roll_before_the_second_bend(legs, roll):
    assert of(legs).last_roll == roll


def test_where_the_end_comes_out():
    result = of("40 ahead, 24 up, 30 left, 9 down, 20 ahead")

    assert (result.ahead, result.left, result.up) == (60, 30, 15)
    assert (result.bends, result.total) == (4, 360)


def test_back_right_and_down_are_below_nothing():
    result = of("20 right, 12 down, 30 back")

    assert (result.ahead, result.left, result.up) == (-30, -20, -12)


def test_each_ninety_takes_its_gain_off_the_tube():
    result = of("30 ahead, 20 up, 16 left")

    assert result.tube == pytest.approx(66 - 2 * result.gain)
    assert result.gain == pytest.approx(0.4292 * 4.5, abs=1e-3)


def test_the_run_bent_with_its_rolls_ends_where_it_was_told():
    random = Random(5)
    for _ in range(200):
        values = DRAWS["run_in_space"](random)
        for one in CLAIMS["run_in_space"](values, run_in_space(**values)):
            assert one.miss == pytest.approx(0, abs=1e-6), (one.name, values)


@pytest.mark.parametrize(
    ("legs", "reason"),
    [
        ("30 ahead", "run_in_space.one-leg"),
        ("30 ahead, 20 ahead", "run_in_space.no-corner"),
        ("30 ahead, 20 back", "run_in_space.no-corner"),
        ("30 ahead, 8 up, 20 left", "run_in_space.short"),
        ("4 ahead, 20 up", "run_in_space.short"),
    ],
)
def test_what_cannot_be_bent_is_refused(refused, legs, reason):
    assert refused(of, legs).reason.id == reason
