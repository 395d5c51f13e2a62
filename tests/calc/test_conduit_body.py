from __future__ import annotations

import pytest

from trainer.calc.boxes_counted import ALLOWANCES
from trainer.calc.conduit_body import conduit_body
from trainer.calc.fill_count import max_conductors
from trainer.calc.raceways import TRADE_SIZES


@pytest.mark.parametrize("size", TRADE_SIZES)
def test_it_is_twice_as_wide_as_its_tube_and_takes_what_the_tube_takes(size):
    body = conduit_body(size, "THHN", "10")

    assert body.least_area == 2 * body.raceway_area
    assert body.most_through == max_conductors("emt", size, "THHN", "10").count


def test_without_a_mark_nothing_is_spliced_in_it():
    assert conduit_body("1", "THHN", "12").most_spliced == 0
    assert conduit_body("2", "THHN", "1/0").most_spliced == 0


@pytest.mark.parametrize("size", ["14", "12", "10", "8", "6"])
@pytest.mark.parametrize("volume", [4.0, 6.75, 12.5, 34.0])
def test_with_a_mark_it_is_counted_as_a_box(size, volume):
    spliced = conduit_body("1-1/4", "THHN", size, volume).most_spliced

    assert spliced * ALLOWANCES[size] <= volume < (spliced + 1) * ALLOWANCES[size]


def test_large_conductors_go_by_the_rule_for_pull_boxes():
    body = conduit_body("2", "THHN", "4", 30.0)

    assert body.least_area is None
    assert body.most_spliced is None
    assert conduit_body("2", "THHN", "6").least_area is not None


@pytest.mark.parametrize(
    ("values", "field"),
    [
        (("5", "THHN", "12"), "trade_size"),
        (("1", "THHN", "12", 0), "marked_volume"),
        (("1", "THHX", "12"), "insulation"),
        (("1", "THHN", "13"), "conductor_size"),
    ],
)
def test_what_is_no_choice_is_refused_by_its_name(values, field, refused):
    assert refused(conduit_body, *values).field == field
