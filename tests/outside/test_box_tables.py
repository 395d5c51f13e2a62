"""
Boxes against exact arithmetic and their own outside.

Sources: NFPA 70-2023 Table 314.16(A), 314.16(B) (two sources). The printed counts of Table 314.16(A) equal
floor(volume / allowance): that is how the counts here are computed, so they are no second source; the published
examples in test_published.py are.
"""

from fractions import Fraction

import pytest

from trainer.calc.boxes_count import box_max_conductors
from trainer.calc.boxes_counted import ALLOWANCES
from trainer.calc.boxes_named import BOXES


@pytest.mark.parametrize("size", ALLOWANCES)
def test_counts_are_the_floor_in_exact_arithmetic(size):
    for box in BOXES.values():
        exact = Fraction(str(box.volume)) // Fraction(str(ALLOWANCES[size]))
        assert box_max_conductors(box, size).count == exact, box.name


def test_no_box_is_larger_than_its_own_outside():
    """Volume against length x width x depth, or the eight sided figure: the table stays below, the walls take the rest."""
    for name, box in BOXES.items():
        sizes = [sum(map(Fraction, word.split("-"))) for word in name.split(" ") if word[0].isdigit()]
        if len(sizes) == 2:
            across, depth = sizes
            share = Fraction(83, 100) if name.endswith("octagonal") else 1
            outside = across * across * depth * share
        elif len(sizes) == 3:
            outside = sizes[0] * sizes[1] * sizes[2]
        else:
            continue
        assert box.volume <= outside, name
