from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.calc.knockout_step import knockout_step
from trainer.calc.raceways import TRADE_SIZES

inches = st.floats(0, 3)


@given(st.sampled_from(TRADE_SIZES), st.floats(0.01, 3), inches)
def test_on_the_spacer_that_is_asked_for_the_tube_runs_straight_in(size, knockout, box_spacer):
    needed = knockout_step(size, knockout, 0.0, box_spacer).spacer_needed
    if needed is not None:
        assert knockout_step(size, knockout, needed, box_spacer).step == pytest.approx(0, abs=1e-9)


@given(st.sampled_from(TRADE_SIZES), st.floats(0.01, 3), inches, inches)
def test_holding_both_off_the_wall_alike_changes_no_step(size, knockout, both, more):
    assert knockout_step(size, knockout, both, both).step == pytest.approx(
        knockout_step(size, knockout, both + more, both + more).step
    )


def test_a_tube_that_is_too_thick_needs_the_box_to_come_out():
    thick = knockout_step("3", 0.75)

    assert thick.spacer_needed is None
    assert thick.step == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("values", "field"),
    [
        (("5", 0.75), "trade_size"),
        (("1/2", 0), "knockout"),
        (("1/2", 0.75, -1), "tube_spacer"),
        (("1/2", 0.75, 0, 25), "box_spacer"),
    ],
)
def test_what_lies_outside_its_range_is_refused_by_its_name(values, field, refused):
    assert refused(knockout_step, *values).field == field
