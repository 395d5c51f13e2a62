from __future__ import annotations

from itertools import count, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trainer.calc import packing
from trainer.calc.packing import Stock, least_cost, pack

#: In sticks of 60 first-fit decreasing puts 31 + 22, 20 + 17 + 15 and opens a third for the 10; two are enough.
FIRST_FIT_WASTES = [10, 22, 20, 17, 15, 31]


def fewest(sizes, stick):
    """The least number of sticks, by trying every way of sharing the pieces out: a second, slower method."""

    def fits(remaining, rooms):
        if not remaining:
            return True
        first, *others = remaining
        for index in range(len(rooms)):
            if first <= rooms[index] and rooms[index] not in rooms[:index]:
                left = [room - first * (place == index) for place, room in enumerate(rooms)]
                if fits(others, left):
                    return True
        return False

    ordered = sorted(sizes, reverse=True)
    return next(number for number in count(0) if fits(ordered, [stick] * number))


@given(st.lists(st.integers(1, 40), max_size=8), st.integers(40, 60))
@settings(max_examples=150)
def test_it_finds_as_few_sticks_as_trying_everything(sizes, stick):
    plan = pack(sizes, [Stock(stick, stick)], bound=0)

    assert len(plan.sticks) == fewest(sizes, stick)
    assert plan.least


@given(st.lists(st.integers(1, 40), max_size=30), st.integers(40, 60), st.lists(st.integers(1, 39), max_size=3))
def test_every_piece_lies_in_one_stick_that_has_room(sizes, stick, offcuts):
    plan = pack(sizes, [Stock(stick, stick)], 0, offcuts)

    placed = [piece for inside in (*plan.offcuts, *plan.sticks) for piece in inside]
    assert sorted(placed) == list(range(len(sizes)))
    assert all(sum(sizes[piece] for piece in inside) <= stick for inside in plan.sticks)
    assert all(plan.sticks)
    for offcut, inside in zip(offcuts, plan.offcuts, strict=True):
        assert sum(sizes[piece] for piece in inside) <= offcut


def test_it_betters_first_fit_decreasing_where_that_wastes_a_stick():
    assert len(pack(FIRST_FIT_WASTES, [Stock(60, 1)], bound=2).sticks) == 2


def test_it_owns_up_when_its_steps_are_used_up(monkeypatch):
    monkeypatch.setattr(packing, "MOST_STEPS", 3)

    plan = pack(FIRST_FIT_WASTES, [Stock(60, 1)], bound=2)

    assert (len(plan.sticks), plan.least) == (3, False)


def test_more_pieces_than_it_searches_are_planned_all_the_same():
    plan = pack([7] * 500, [Stock(20, 1)], bound=0)

    assert len(plan.sticks) == 250
    assert not plan.least
    assert pack([7] * 500, [Stock(20, 1)], bound=250).least


@pytest.mark.parametrize("offcuts", [[], [40.0], [41.0, 30.0]])
def test_offcuts_come_before_new_sticks(offcuts):
    plan = pack([40.0, 30.0, 60.0], [Stock(60.0, 1)], 0, offcuts)

    assert len(plan.sticks) == (3, 2, 1)[len(offcuts)]


def cheapest(sizes, stocks):
    """The least cost, by trying every way of sharing the pieces out, and then of buying a stick for each share."""

    def price(content):
        return min((stock.cost for stock in stocks if stock.size >= content), default=None)

    def tried(index, contents):
        if index == len(sizes):
            prices = [price(content) for content in contents]
            return None if None in prices else (sum(prices), len(prices))
        ways = [
            [*contents[:place], content + sizes[index], *contents[place + 1 :]]
            for place, content in enumerate(contents)
        ]
        found = [tried(index + 1, way) for way in (*ways, [*contents, sizes[index]])]
        return min((one for one in found if one), default=None)

    return tried(0, [])


@given(
    st.lists(st.integers(1, 40), min_size=1, max_size=6),
    st.lists(st.integers(40, 90), min_size=2, max_size=3, unique=True),
)
@settings(max_examples=150)
def test_with_several_lengths_it_finds_the_least_length_and_then_the_fewest_sticks(sizes, lengths):
    stocks = [Stock(length, length) for length in lengths]
    plan = pack(sizes, stocks, bound=0)

    assert (sum(stocks[kind].cost for kind in plan.stocks), len(plan.sticks)) == cheapest(sizes, stocks)
    assert plan.least


@given(st.lists(st.integers(1, 40), max_size=30), st.lists(st.integers(40, 90), min_size=2, max_size=3, unique=True))
def test_each_new_stick_holds_what_is_placed_in_it(sizes, lengths):
    plan = pack(sizes, [Stock(length, length) for length in lengths], 0)

    assert sorted(piece for inside in plan.sticks for piece in inside) == list(range(len(sizes)))
    assert len(plan.stocks) == len(plan.sticks)
    for kind, inside in zip(plan.stocks, plan.sticks, strict=True):
        assert sum(sizes[piece] for piece in inside) <= lengths[kind]


@given(st.floats(0.1, 400), st.lists(st.floats(5, 90), min_size=1, max_size=3, unique=True))
def test_no_bunch_of_sticks_that_holds_enough_is_cheaper_than_the_least_cost(need, lengths):
    stocks = [Stock(length + 1, length) for length in lengths]
    bound = least_cost(need, stocks)

    for counts in product(range(8), repeat=len(stocks)):
        if sum(count * stock.size for count, stock in zip(counts, stocks, strict=True)) >= need:
            assert bound <= sum(count * stock.cost for count, stock in zip(counts, stocks, strict=True)) + 1e-6


def test_nothing_costs_nothing():
    assert least_cost(0, [Stock(120, 120)]) == 0


def test_where_there_are_too_many_totals_the_bound_is_by_price_alone(monkeypatch):
    monkeypatch.setattr(packing, "_MOST_TOTALS", 3)

    assert least_cost(250, [Stock(120, 120), Stock(240, 240)]) == 250
