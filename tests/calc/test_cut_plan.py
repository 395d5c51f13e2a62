from __future__ import annotations

import math
from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.calc.cut_plan import cut_plan


def test_a_small_plan_is_listed_stick_by_stick():
    plan = cut_plan((47, 47, 70), kerf=0.125)

    assert (plan.sticks, plan.lower_bound, plan.proved_least) == (2, 2, True)
    first, second = plan.cuts
    assert (first.pieces, first.cuts, first.left, first.offcut) == ((70, 47), 2, 2.75, False)
    assert (second.pieces, second.cuts, second.left) == ((47,), 1, 72.875)
    assert plan.cut_count == 3
    assert plan.waste == 2 * 120 - (47 + 47 + 70)


def test_a_piece_that_ends_exactly_at_the_sticks_end_needs_no_last_cut():
    (stick,) = cut_plan((60, 59.875), kerf=0.125).cuts

    assert (stick.cuts, stick.left) == (1, 0)


def test_two_halves_of_a_stick_do_not_come_out_of_it_with_a_real_saw():
    assert cut_plan((60, 60)).sticks == 1
    assert cut_plan((60, 60), kerf=1 / 16).sticks == 2


def test_a_rest_narrower_than_the_saw_is_cut_away():
    (stick,) = cut_plan((119.95,), kerf=0.125).cuts

    assert (stick.cuts, stick.left) == (1, 0)


def test_a_whole_stick_is_not_cut_at_all():
    plan = cut_plan((120, 120), kerf=0.125)

    assert (plan.sticks, plan.cut_count, plan.waste) == (2, 0, 0)


def test_offcuts_are_used_first_and_only_those_used_are_listed():
    plan = cut_plan((47, 70, 30), offcuts=(20, 48), kerf=0.0625)

    assert plan.sticks == 1
    assert [(stick.length, stick.pieces, stick.offcut) for stick in plan.cuts] == [
        (48, (47,), True),
        (120, (70, 30), False),
    ]
    assert plan.waste == 48 + 120 - 147


def test_offcuts_can_be_enough():
    plan = cut_plan((40,), offcuts=(48,))

    assert (plan.sticks, plan.lower_bound, plan.proved_least) == (0, 0, True)


def test_long_pieces_raise_the_bound_above_that_by_length():
    assert cut_plan((61,) * 5).lower_bound == 5
    assert cut_plan((61,) * 5, offcuts=(70,)).lower_bound == 4


@given(
    st.lists(st.integers(4, 480), min_size=1, max_size=14),
    st.sampled_from([0.0, 1 / 32, 0.05, 1 / 8]),
    st.lists(st.integers(4, 300), max_size=2),
)
def test_every_plan_can_be_cut(quarters, kerf, offcut_quarters):
    pieces = tuple(quarter / 4 for quarter in quarters)
    offcuts = tuple(quarter / 4 for quarter in offcut_quarters)
    plan = cut_plan(pieces, kerf=kerf, offcuts=offcuts)

    assert Counter(piece for stick in plan.cuts for piece in stick.pieces) == Counter(pieces)
    assert plan.sticks == sum(not stick.offcut for stick in plan.cuts)
    assert plan.lower_bound <= plan.sticks <= len(pieces)
    assert plan.proved_least or plan.lower_bound < plan.sticks
    for stick in plan.cuts:
        sawn = sum(stick.pieces) + stick.cuts * kerf + stick.left
        assert sawn == pytest.approx(stick.length, abs=kerf + 1e-9)
        assert sum(stick.pieces) + (len(stick.pieces) - 1) * kerf <= stick.length + 1e-9
        assert stick.cuts in {len(stick.pieces), len(stick.pieces) - 1}


@given(st.integers(1, 12), st.integers(8, 480), st.sampled_from([0.0, 1 / 32, 1 / 8]))
def test_equal_pieces_follow_the_rule_of_stick_and_kerf(times, quarters, kerf):
    piece = quarters / 4
    in_one = math.floor((120 + kerf) / (piece + kerf) + 1e-9)

    assert cut_plan((piece,) * times, kerf=kerf).sticks == math.ceil(times / in_one)


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"pieces": ()}, "pieces"),
        ({"pieces": (0,)}, "pieces"),
        ({"pieces": (120.1,)}, "pieces"),
        ({"pieces": (50,), "stock_length": 40}, "pieces"),
        ({"pieces": (50,), "stock_length": 0}, "stock_length"),
        ({"pieces": (50,), "kerf": -0.1}, "kerf"),
        ({"pieces": (50,), "kerf": 1}, "kerf"),
        ({"pieces": (50,), "offcuts": (0,)}, "offcuts"),
    ],
)
def test_what_is_impossible_is_refused(values, field, refused):
    assert refused(cut_plan, **values).field == field
