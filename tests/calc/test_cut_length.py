from __future__ import annotations

import pytest

from trainer.calc.cut_length import cut_length


def test_each_connector_takes_off_what_stands_out_and_gives_back_what_goes_in():
    result = cut_length(40, 1.125, 0.75)

    assert (result.faces, result.between, result.tube) == (40, 37.75, 39.25)
    assert (result.couplings, result.last_piece) == (0, 39.25)


def test_between_centres_half_of_each_box_is_no_run():
    result = cut_length(44.34375, 1.125, 0.75, "centres", first_box=4, second_box=4.6875)

    assert result.faces == 40
    assert result.tube == 39.25


def test_a_run_longer_than_a_stick_is_coupled_and_each_coupling_keeps_its_gap():
    result = cut_length(300, 1, 1, coupling_gap=0.125)

    assert (result.tube, result.couplings) == (300, 2)
    assert result.last_piece == 300 - 2 * 120.125


def test_a_run_of_just_two_sticks_and_their_coupling_is_not_cut():
    result = cut_length(240.125, 1, 1, coupling_gap=0.125)

    assert (result.couplings, result.last_piece) == (1, 120)


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"distance": 2.25}, "distance"),
        ({"goes_in": 1.25}, "goes_in"),
        ({"stands_out": -1}, "stands_out"),
        ({"measured": "edges"}, "measured"),
        ({"measured": "centres"}, "first_box"),
        ({"measured": "centres", "first_box": 4}, "second_box"),
        ({"stock_length": 0}, "stock_length"),
        ({"coupling_gap": -0.1}, "coupling_gap"),
    ],
)
def test_what_leaves_no_tube_is_refused(values, field, refused):
    assert refused(cut_length, **{"distance": 40, "stands_out": 1.125, "goes_in": 0.75, **values}).field == field
