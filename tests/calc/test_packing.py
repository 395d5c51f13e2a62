from __future__ import annotations

from itertools import count

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trainer.calc import packing
from trainer.calc.packing import pack

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
    plan = pack(sizes, stick, bound=0)

    assert len(plan.sticks) == fewest(sizes, stick)
    assert plan.least


@given(st.lists(st.integers(1, 40), max_size=30), st.integers(40, 60), st.lists(st.integers(1, 39), max_size=3))
def test_every_piece_lies_in_one_stick_that_has_room(sizes, stick, offcuts):
    plan = pack(sizes, stick, 0, offcuts)

    placed = [piece for inside in (*plan.offcuts, *plan.sticks) for piece in inside]
    assert sorted(placed) == list(range(len(sizes)))
    assert all(sum(sizes[piece] for piece in inside) <= stick for inside in plan.sticks)
    assert all(plan.sticks)
    for offcut, inside in zip(offcuts, plan.offcuts, strict=True):
        assert sum(sizes[piece] for piece in inside) <= offcut


def test_it_betters_first_fit_decreasing_where_that_wastes_a_stick():
    assert len(pack(FIRST_FIT_WASTES, 60, bound=2).sticks) == 2


def test_it_owns_up_when_its_steps_are_used_up(monkeypatch):
    monkeypatch.setattr(packing, "MOST_STEPS", 3)

    plan = pack(FIRST_FIT_WASTES, 60, bound=2)

    assert (len(plan.sticks), plan.least) == (3, False)


def test_more_pieces_than_it_searches_are_planned_all_the_same():
    plan = pack([7] * 500, 20, bound=0)

    assert len(plan.sticks) == 250
    assert not plan.least
    assert pack([7] * 500, 20, bound=250).least


@pytest.mark.parametrize("offcuts", [[], [40.0], [41.0, 30.0]])
def test_offcuts_come_before_new_sticks(offcuts):
    plan = pack([40.0, 30.0, 60.0], 60.0, 0, offcuts)

    assert len(plan.sticks) == (3, 2, 1)[len(offcuts)]
