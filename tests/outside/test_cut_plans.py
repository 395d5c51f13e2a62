"""Cut plans against an exact solver of mixed integer programs (HiGHS in scipy), on small cases."""

from __future__ import annotations

import random

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp

from trainer.calc.cut_plan import cut_plan


def least_new_length(pieces, stocks, kerf, offcuts):
    """
    The least length of new sticks.

    One variable for each piece in each bin, one for each new stick that is opened; as many sticks of each length as
    there are pieces, and the offcuts, which cost nothing.
    """
    bins = [(offcut, 0.0) for offcut in offcuts] + [(stock, stock) for stock in stocks for _ in pieces]
    count, holds = len(pieces), len(bins)
    placed = count * holds
    cost = np.concatenate([np.zeros(placed), [price for _, price in bins]])
    each_once = np.zeros((count, placed + holds))
    within = np.zeros((holds, placed + holds))
    for index, (length, _) in enumerate(bins):
        for piece in range(count):
            each_once[piece, piece * holds + index] = 1
            within[index, piece * holds + index] = pieces[piece] + kerf
        within[index, placed + index] = -(length + kerf)
    rules = [LinearConstraint(each_once, 1, 1), LinearConstraint(within, -np.inf, 1e-9)]
    solved = milp(cost, integrality=np.ones_like(cost), bounds=Bounds(0, 1), constraints=rules)
    assert solved.success
    return solved.fun


def cases():
    rng = random.Random(8)
    for _ in range(60):
        pieces = tuple(rng.randrange(8, 480) / 4 for _ in range(rng.randrange(1, 8)))
        others = tuple(rng.sample((96.0, 144.0, 240.0), rng.randrange(3)))
        offcuts = tuple(rng.randrange(40, 400) / 4 for _ in range(rng.randrange(3)))
        yield pieces, others, rng.choice((0.0, 0.05, 0.125)), offcuts


@pytest.mark.parametrize(("pieces", "others", "kerf", "offcuts"), list(cases()))
def test_the_plan_needs_as_little_new_stock_as_the_solver_finds(pieces, others, kerf, offcuts):
    plan = cut_plan(pieces, kerf=kerf, offcuts=offcuts, other_stock=others)

    assert plan.proved_least
    assert plan.new_length == pytest.approx(least_new_length(pieces, (120.0, *others), kerf, offcuts))
