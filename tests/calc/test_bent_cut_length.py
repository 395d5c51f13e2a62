from __future__ import annotations

import pytest

from trainer.calc.bent_cut_length import bent_cut_length
from trainer.calc.shoes import DEFAULT_SHOE


@pytest.mark.parametrize(("legs", "bends"), [((40,), 0), ((14, 40), 1), ((14, 40, 9), 2), ((20, 20, 20, 20, 20), 4)])
def test_every_90_takes_its_gain_off_the_legs(legs, bends):
    result = bent_cut_length(legs, 2.625)

    assert (result.bends, result.all_gain) == (bends, bends * 2.625)
    assert result.tube == sum(legs) - bends * 2.625


@pytest.mark.parametrize(("measured", "lacks"), [("back", 0), ("centre", 0.706), ("inside", 2 * 0.706)])
def test_legs_to_the_middle_or_the_inside_are_first_brought_to_the_backs(measured, lacks):
    result = bent_cut_length((14, 40, 9), 2.625, measured, outside_diameter=0.706)

    assert result.to_backs == pytest.approx(63 + 2 * lacks)
    assert result.tube == pytest.approx(result.to_backs - 5.25)


def test_an_offset_takes_its_shrink_more():
    assert bent_cut_length((60,), 2.625, offset_depth=4, shrink_per_inch=0.25).tube == 61


def test_connectors_take_off_and_give_back_at_the_fitted_ends_only():
    assert bent_cut_length((14, 40), 2.5, fitted_ends=1, stands_out=1.125, goes_in=0.75).tube == 51.125
    assert bent_cut_length((14, 40), 2.5, fitted_ends=2, stands_out=1.125, goes_in=0.75).tube == 50.75


def test_with_the_gain_of_the_shoe_it_is_what_the_shoe_takes():
    assert bent_cut_length((14, 40), DEFAULT_SHOE.outside_gain).tube == pytest.approx(51.363, abs=1e-3)


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"legs": ()}, "legs"),
        ({"legs": (9,) * 6}, "legs"),
        ({"legs": (1, 1)}, "legs"),
        ({"gain": -1}, "gain"),
        ({"measured": "inside"}, "outside_diameter"),
        ({"measured": "edge"}, "measured"),
        ({"fitted_ends": 3}, "fitted_ends"),
        ({"stands_out": 0.5, "goes_in": 0.75}, "goes_in"),
        ({"shrink_per_inch": 2}, "shrink_per_inch"),
    ],
)
def test_what_can_be_no_piece_is_refused(values, field, refused):
    assert refused(bent_cut_length, **{"legs": (14, 40), "gain": 2.625, **values}).field == field
