"""
The table of ampacities against what the physics of heat asks of it, and the correction factors against their formula.

Sources: NFPA 70-2023 Table 310.16 (two lists), Table 310.15(B)(1)(1) (a code reprint).
"""

from math import sqrt

import pytest

from trainer.calc.conductors import TABLE_SIZES, circular_mils
from trainer.calc.tables import table

BASE = table("ampacity")["base"]["rows"]


@pytest.mark.parametrize(("place", "rated"), [(1, 60), (2, 75), (3, 90)])
def test_every_correction_factor_is_the_square_root_of_what_heat_is_left(place, rated):
    """sqrt((rating - ambient) / (rating - 30)) with the top of each row; residue: the rounding to a hundredth."""
    for row in table("ampacity")["ambient"]["rows"]:
        left = max(0, rated - row[0])
        assert row[place] == pytest.approx(sqrt(left / (rated - 30)), abs=0.005001), row


@pytest.mark.parametrize("size", TABLE_SIZES)
def test_a_hotter_column_carries_more(size):
    row = next(row for row in BASE if row[0] == size)

    assert row[1] < row[2] < row[3]
    assert row[4] <= row[5] <= row[6]
    assert row[4] < row[1]


def test_columns_scale_with_the_heat_that_insulation_may_take():
    """
    Copper at 75 C against 60 C: about sqrt(45 / 30) = 1.22, and 90 C against 75 C sqrt(60 / 45) = 1.15 in theory.

    The printed columns are rounded to 5 A and follow older tests: the ratios lie from 1.17 to 1.34 and 1.10 to 1.25.
    """
    for row in BASE:
        assert 1.16 < row[2] / row[1] < 1.34, row
        assert 1.09 < row[3] / row[2] < 1.26, row


def test_ampacity_grows_slower_than_the_metal():
    """A conductor's surface, not its bulk, sheds the heat: amperes for each circular mil fall from size to size."""
    shares = [row[2] / circular_mils(row[0]) for row in BASE]

    assert shares == sorted(shares, reverse=True)
