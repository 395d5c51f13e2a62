from __future__ import annotations

import pytest

from trainer.calc.wet_wall import wet_wall


@pytest.mark.parametrize(("air", "short"), [(0, 0.25), (0.125, 0.125), (0.25, 0), (1, 0)])
def test_a_quarter_inch_of_air_stays_behind_the_metal(air, short):
    assert wet_wall(air, 0.25, 40, 30).air_short == short


@pytest.mark.parametrize(("hole", "allowed"), [(1 / 16, False), (1 / 8, True), (1 / 4, True), (5 / 16, False)])
def test_a_drain_hole_is_neither_too_small_nor_too_large(hole, allowed):
    assert wet_wall(0.25, hole, 40, 30).drain_allowed is allowed


@pytest.mark.parametrize(("entry", "listed"), [(39, False), (40, False), (41, True)])
def test_an_entry_above_live_parts_takes_a_listed_fitting(entry, listed):
    found = wet_wall(0.25, 0.25, 40, entry)

    assert found.entry_listed is listed
    assert found.entry_above == max(0, entry - 40)


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ((-1, 0.25, 40, 30), "air_space"),
        ((0.25, 0, 40, 30), "drain_hole"),
        ((0.25, 0.25, 241, 30), "live_parts"),
        ((0.25, 0.25, 40, -1), "entry"),
    ],
)
def test_what_lies_outside_its_range_is_refused_by_its_name(values, field, refused):
    assert refused(wet_wall, *values).field == field
