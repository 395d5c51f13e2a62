from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.calc.cut_end import cut_end
from trainer.calc.raceways import TRADE_SIZES


def test_a_square_clean_end_loses_nothing():
    end = cut_end("3/4")

    assert (end.bore_left, end.open_percent, end.lost_percent, end.out_of_square) == (end.bore, 100, 0, 0)


def test_the_ridge_stands_on_both_sides_of_the_bore():
    assert cut_end("1/2", 1 / 16).bore_left == pytest.approx(0.622 - 1 / 8)


@pytest.mark.parametrize("size", TRADE_SIZES)
def test_the_same_ridge_takes_more_of_a_small_tube_than_of_a_large_one(size):
    assert cut_end(size, 1 / 32).lost_percent <= cut_end("1/2", 1 / 32).lost_percent


def test_a_slant_is_measured_over_the_whole_tube():
    assert cut_end("1", slant=5).out_of_square == pytest.approx(1.163 * math.tan(math.radians(5)))


@given(st.sampled_from(TRADE_SIZES), st.floats(0, 0.25))
def test_left_and_lost_are_all_of_it(size, ridge):
    end = cut_end(size, ridge)

    assert end.open_percent + end.lost_percent == pytest.approx(100)
    assert 0 < end.bore_left <= end.bore


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"trade_size": "5"}, "trade_size"),
        ({"trade_size": "1/2", "ridge": 0.3}, "ridge"),
        ({"trade_size": "1/2", "slant": 45}, "slant"),
    ],
)
def test_what_lies_outside_its_range_is_refused_by_its_name(values, field, refused):
    assert refused(cut_end, **values).field == field
