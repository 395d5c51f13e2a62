from __future__ import annotations

import math
from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.calc import packing
from trainer.calc.cut_plan import cut_plan
from trainer.text.words import say


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


def test_with_two_lengths_of_stick_the_least_new_stock_is_bought():
    """Four of 58 in come out of two sticks of 10 ft with 4 in to spare each; one of 20 ft makes 1 cut fewer."""
    plan = cut_plan((58,) * 4, kerf=0.05, other_stock=(240,))

    assert [(order.count, order.length) for order in plan.to_buy] == [(1, 240)]
    assert (plan.new_length, plan.least_length, plan.gap, plan.sticks) == (240, 240, 0, 1)
    assert plan.proved_least


def test_a_longer_stick_is_bought_for_a_longer_piece_only():
    plan = cut_plan((150, 100), other_stock=(240,))

    assert [(order.count, order.length) for order in plan.to_buy] == [(1, 240), (1, 120)]
    assert say(plan.to_buy[0].message()) == "1 stick of 20 ft"
    assert [stick.length for stick in plan.cuts] == [240, 120]
    assert (plan.new_length, plan.least_length, plan.proved_least) == (360, 360, True)


def test_the_same_length_twice_is_one():
    assert cut_plan((50, 50), other_stock=(120, 120)) == cut_plan((50, 50))


def test_what_is_worth_keeping_is_no_scrap():
    plan = cut_plan((80, 110), kerf=0.125, worth_keeping=18)

    assert plan.waste == 240 - 190
    assert plan.kept == (120 - 80 - 0.125,)
    assert plan.scrap == plan.waste - plan.kept[0]


def test_without_a_word_on_what_is_worth_keeping_everything_left_is_scrap():
    plan = cut_plan((80, 110), kerf=0.125)

    assert (plan.kept, plan.scrap) == ((), plan.waste)


def test_an_offcut_cut_shorter_goes_back_on_the_rack_too():
    assert cut_plan((30,), offcuts=(51.5,), worth_keeping=18).kept == (21.5,)


def test_where_it_is_not_proved_the_gap_to_the_bound_is_stated(monkeypatch):
    monkeypatch.setattr(packing, "MOST_STEPS", 1)
    hard = (10, 22, 20, 17, 15, 31)
    plan = cut_plan(hard, 60)

    assert (plan.sticks, plan.proved_least) == (3, False)
    assert (plan.new_length, plan.least_length, plan.gap) == (180, 120, 60)


@given(
    st.lists(st.integers(4, 480), min_size=1, max_size=12),
    st.sampled_from([0.0, 1 / 32, 1 / 8]),
    st.lists(st.integers(4, 300), max_size=2),
    st.lists(st.sampled_from([96, 144, 240]), max_size=3),
)
def test_every_plan_of_several_lengths_adds_up(quarters, kerf, offcut_quarters, others):
    pieces, offcuts = (tuple(quarter / 4 for quarter in given) for given in (quarters, offcut_quarters))
    plan = cut_plan(pieces, kerf=kerf, offcuts=offcuts, other_stock=tuple(others), worth_keeping=12)

    assert Counter(piece for stick in plan.cuts for piece in stick.pieces) == Counter(pieces)
    assert plan.new_length == sum(order.count * order.length for order in plan.to_buy)
    assert plan.new_length == sum(stick.length for stick in plan.cuts if not stick.offcut)
    assert plan.sticks == sum(order.count for order in plan.to_buy)
    assert plan.least_length <= plan.new_length <= cut_plan(pieces, kerf=kerf, offcuts=offcuts).new_length
    assert plan.gap in {0.0, plan.new_length - plan.least_length}
    assert plan.waste == pytest.approx(sum(plan.kept) + plan.scrap)
    assert all(length >= 12 for length in plan.kept)


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
        ({"pieces": (50,), "other_stock": (0,)}, "other_stock"),
        ({"pieces": (50,), "other_stock": (60, 70, 80, 90)}, "other_stock"),
        ({"pieces": (250,), "other_stock": (240,)}, "pieces"),
        ({"pieces": (50,), "worth_keeping": 0}, "worth_keeping"),
    ],
)
def test_what_is_impossible_is_refused(values, field, refused):
    assert refused(cut_plan, **values).field == field
