from __future__ import annotations

import pytest

from trainer.calc.length_sum import length_sum


def test_feet_inches_and_fractions_add_up_with_the_foot_carried_at_twelve():
    result = length_sum((43.75, 32.625))

    assert (result.total, result.feet, result.inches_over) == (76.375, 6, 4.375)


def test_a_sum_that_comes_to_whole_feet_has_nothing_over():
    result = length_sum((11.9375, 12.0625))

    assert (result.feet, result.inches_over) == (2, 0)


def test_what_is_taken_off_leaves_the_rest_and_the_rest_is_parted():
    result = length_sum((120,), (47.3125, 0.0625), 2)

    assert (result.added, result.off, result.total, result.each) == (120, 47.375, 72.625, 36.3125)


def test_all_of_it_may_be_taken_off():
    assert length_sum((1.1, 2.2), (3.3,)).total == pytest.approx(0)


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"lengths": ()}, "lengths"),
        ({"lengths": (3, 0)}, "lengths"),
        ({"lengths": (3,), "taken_off": (3.0625,)}, "taken_off"),
        ({"lengths": (3,), "parts": 0}, "parts"),
    ],
)
def test_what_is_no_sum_is_refused(values, field, refused):
    assert refused(length_sum, **values).field == field
