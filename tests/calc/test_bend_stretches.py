from __future__ import annotations

import pytest

from trainer.calc.bend_stretches import bend_stretches

GOOD = (90, 90, 45, 45)


@pytest.mark.parametrize(("second", "over"), [((90,) * 4, 0), ((90,) * 4 + (10,), 1), ((22.5,) * 16, 0)])
def test_the_limit_itself_is_allowed_between_two_pull_points(second, over):
    assert bend_stretches(GOOD, second, GOOD).over_count == over


def test_each_stretch_is_summed_for_itself_and_the_whole_is_no_fault():
    found = bend_stretches(GOOD, GOOD, GOOD)

    assert (found.first_total, found.second_total, found.third_total) == (270, 270, 270)
    assert (found.whole, found.over_count) == (810, 0)


def test_a_stricter_place_finds_more():
    assert bend_stretches(GOOD, (90, 90, 90, 30), (90,), limit=270).over_count == 1


@pytest.mark.parametrize(("values", "field"), [(((0,), GOOD, GOOD), "first"), ((GOOD, (181,), GOOD), "second")])
def test_what_lies_outside_its_range_is_refused_by_its_name(values, field, refused):
    assert refused(bend_stretches, *values).field == field
