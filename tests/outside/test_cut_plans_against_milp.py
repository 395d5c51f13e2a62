"""
Cut plans against an exact integer program, solved by scipy's HiGHS: as many sticks as it needs, never fewer or more.

The program knows no kerf trick: each stick holds its pieces and a kerf after each, with one kerf to spare at the end,
because a piece that ends at the stick's end needs no last cut. Checked: computed.
"""

from __future__ import annotations

import random

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp

from trainer.calc.cut_plan import cut_plan

STICK = 120.0


def fewest_sticks(pieces, kerf, offcuts=()):
    """Least number of new sticks."""
    return least_cost(pieces, kerf, [(offcut, 0) for offcut in offcuts] + [(STICK, 1)] * len(pieces))


def least_new_length(pieces, kerf, stocks):
    """Least length of new sticks where several lengths can be had [in]."""
    return least_cost(pieces, kerf, [(stock, stock) for stock in stocks for _ in pieces])


def least_cost(pieces, kerf, stock):
    """By a program with a yes or no for each piece in each stick, and for each stick that is used."""
    rooms = [length for length, _ in stock]
    count, bins = len(pieces), len(rooms)
    placed = count * bins
    cost = np.zeros(placed + bins)
    cost[placed:] = [each for _, each in stock]
    once = np.zeros((count, placed + bins))
    full = np.zeros((bins, placed + bins))
    for piece, length in enumerate(pieces):
        once[piece, piece * bins : (piece + 1) * bins] = 1
        full[range(bins), range(piece * bins, (piece + 1) * bins)] = length + kerf
    full[range(bins), range(placed, placed + bins)] = [-(room + kerf) - 1e-9 for room in rooms]
    constraints = [LinearConstraint(once, 1, 1), LinearConstraint(full, -np.inf, 0)]
    found = milp(cost, constraints=constraints, integrality=np.ones(placed + bins), bounds=Bounds(0, 1))
    assert found.success, found.message
    return round(found.fun, 6)


def drawn(seed, most=8):
    rng = random.Random(seed)
    pieces = tuple(rng.randrange(8 * 16, 118 * 16) / 16 for _ in range(rng.randrange(1, most)))
    return pieces, rng.choice((0.0, 1 / 16, 0.05))


@pytest.mark.parametrize("seed", range(40))
def test_the_plan_needs_as_many_sticks_as_the_exact_program(seed):
    pieces, kerf = drawn(seed)
    plan = cut_plan(pieces, kerf=kerf)

    assert plan.sticks == fewest_sticks(pieces, kerf)
    assert plan.lower_bound <= plan.sticks


@pytest.mark.parametrize("seed", range(15))
def test_so_it_does_with_offcuts_in_hand(seed):
    pieces, kerf = drawn(100 + seed, most=7)
    offcuts = tuple(random.Random(seed).choices((30.0, 47.5, 62.0, 90.0), k=2))
    plan = cut_plan(pieces, kerf=kerf, offcuts=offcuts)

    assert plan.sticks == fewest_sticks(pieces, kerf, offcuts)


@pytest.mark.parametrize("seed", range(12))
def test_of_several_lengths_it_takes_the_least_new_stock(seed):
    pieces, kerf = drawn(200 + seed, most=6)
    plan = cut_plan(pieces, kerf=kerf, other_stock=(60.0, 96.0))
    least = least_new_length(pieces, kerf, (60.0, 96.0, STICK))

    assert plan.new_length - plan.gap <= least <= plan.new_length
    assert not plan.proved_least or plan.new_length == least


@pytest.mark.parametrize(
    "pieces",
    [
        (40, 40, 40, 60, 60, 60),
        (47,) * 8 + (70,) * 3,
        (51, 27, 41, 61, 39, 20, 33, 87),
        (60, 60, 60, 60),
        (120, 1),
        # First-fit decreasing needs one stick more.
        (61, 45, 40, 40, 25, 15, 14),
    ],
)
def test_lists_that_look_easy_are_cut_as_well_as_can_be(pieces):
    lengths = tuple(map(float, pieces))

    assert cut_plan(lengths, kerf=0.0).sticks == fewest_sticks(lengths, 0.0)
