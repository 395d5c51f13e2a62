"""
Boxes against published figures.

Sources: NFPA 70-2023 Table 314.16(A), 314.16(B) (two sources); the worked examples are named below. The printed counts
of Table 314.16(A) equal floor(volume / allowance): that is how the counts here are computed, so they are no second
source; the published examples are.
"""

from fractions import Fraction

import pytest

from trainer.calc.boxes import box_fill
from trainer.calc.boxes_count import box_max_conductors
from trainer.calc.boxes_counted import ALLOWANCES
from trainer.calc.boxes_named import BOXES, read_box
from trainer.calc.pull_boxes import pull_box
from trainer.calc.pull_boxes_entries import read_entries
from trainer.calc.wire_lists import read_sizes


@pytest.mark.parametrize(("box", "size", "count"), [("4 x 1-1/2 octagonal", "14", 7), ("4 x 2-1/8 square", "12", 13)])
def test_published_counts_are_met(box, size, count):
    """NFPA 70-2023 Table 314.16(A), (B)(1); two sources."""
    assert box_max_conductors(read_box(box), size).count == count


def test_nine_12_awg_of_two_insulations_need_a_4_by_1_and_a_half_square():
    """Trade magazine worked example, 20.25 cu in: the 21.0 cu in box; two sources."""
    filled = box_fill(read_sizes("6 #12 THHN, 3 #12 THW"), box=read_box("4 x 1-1/2 square"))

    assert filled.volume_required == 20.25
    assert filled.fits


def test_ten_grounds_of_two_sizes_by_the_quarter_rule():
    """Worked answer in a published discussion of the 2020 rule: 5.625 cu in; two sources."""
    assert box_fill((), equipment_grounds=read_sizes("5 #14, 5 #12"), edition="2020").volume_required == 5.625


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


def test_a_straight_pull_of_trade_size_2_takes_16_inches():
    """Trade magazine code questions, answer printed; two sources."""
    assert pull_box(read_entries("2 left to 2 right")).width == 16


def test_two_3_inch_entries_of_the_same_conductors_stand_18_inches_apart():
    """NFPA 70-2023 314.28(A)(2); two sources."""
    assert pull_box(read_entries("3 left to 3 top")).spacing == 18
