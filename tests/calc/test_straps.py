from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.calc.straps import Ends, strap_count

FT = 12


@pytest.mark.parametrize(
    ("feet", "straps"),
    [
        (0.5, 1),
        (3, 1),
        (6, 1),
        (6.01, 2),
        (10, 2),
        (16, 2),
        (16.01, 3),
        (26, 3),
        (26.01, 4),
        (36, 4),
        (42, 5),
        (100, 11),
    ],
)
def test_the_least_number_is_one_too_many_at_no_exact_multiple(feet, straps):
    assert strap_count(feet * FT).straps == straps


@pytest.mark.parametrize("stretches", range(1, 60))
def test_exact_multiples_hold_however_the_length_was_worked_out(stretches):
    tenths = sum([0.1] * (100 * stretches))  # Some bits off 10 ft a stretch.

    assert strap_count((6 + tenths) * FT).straps == 1 + stretches


@pytest.mark.parametrize(
    ("ends", "one_strap", "two_straps"),
    [(Ends.PLAIN, 6, 16), (Ends.ONE_EXCEPTION, 8, 18), (Ends.TWO_EXCEPTIONS, 10, 20)],
)
def test_the_exception_lets_the_first_strap_be_five_feet_away(ends, one_strap, two_straps):
    assert strap_count(one_strap * FT, ends).straps == 1
    assert strap_count(one_strap * FT + 1, ends).straps == 2
    assert strap_count(two_straps * FT, ends).straps == 2
    assert strap_count(two_straps * FT + 1, ends).straps == 3


def test_with_one_exception_the_start_has_it():
    first, last = strap_count(18 * FT, Ends.ONE_EXCEPTION).positions

    assert (first, 18 * FT - last) == pytest.approx((60, 36))


def test_a_local_rule_may_ask_for_more_straps():
    assert strap_count(26 * FT, max_spacing=5 * FT).straps == 5
    assert strap_count(26 * FT, max_from_end=12).straps == 4
    assert strap_count(18 * FT, Ends.TWO_EXCEPTIONS, max_from_end=72).straps == 2


@given(
    st.floats(1, 12_000),
    st.sampled_from(list(Ends)),
    st.floats(12, 240),
    st.floats(6, 72),
)
def test_the_layout_keeps_every_distance_and_no_fewer_straps_could(run_length, ends, max_spacing, max_from_end):
    result = strap_count(run_length, ends, max_spacing, max_from_end)
    start = max_from_end if ends == Ends.PLAIN else max(60, max_from_end)
    end = max(60, max_from_end) if ends == Ends.TWO_EXCEPTIONS else max_from_end
    first, last = result.positions[0], result.positions[-1]
    gaps = [after - before for before, after in zip(result.positions, result.positions[1:], strict=False)]

    assert len(result.positions) == result.straps
    assert 0 <= first <= start + 1e-6
    assert 0 <= run_length - last <= end + 1e-6
    assert all(0 < gap <= max_spacing + 1e-6 for gap in gaps)
    assert result.straps == 1 or start + end + (result.straps - 2) * max_spacing < run_length + 1e-6


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"run_length": 0}, "run_length"),
        ({"run_length": 12_001}, "run_length"),
        ({"run_length": 120, "ends": "loose"}, "ends"),
        ({"run_length": 120, "max_spacing": 0}, "max_spacing"),
        ({"run_length": 120, "max_from_end": 0}, "max_from_end"),
    ],
)
def test_what_is_impossible_is_refused(values, field, refused):
    assert refused(strap_count, **values).field == field
