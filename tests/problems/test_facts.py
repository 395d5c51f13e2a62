"""Numbers of the core's tables by their path."""

from __future__ import annotations

import pytest

from trainer.problems.facts import fact, how_checked


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("support.emt.max_spacing", 120.0),
        ("bends.hand_bender_shoe.rows.1.take_up", 6.0),
        ("bends.hand_bender_shoe.rows.99.take_up", None),
        ("bends.hand_bender_shoe.rows.one.take_up", None),
        ("bends.hand_bender_shoe.source", None),
        ("bends.hand_bender_shoe.source.more", None),
        ("bends.nothing", None),
        ("nowhere.emt.max_spacing", None),
    ],
)
def test_a_path_leads_to_a_number_or_to_nothing(path, value):
    assert fact(path) == value


@pytest.mark.parametrize(
    ("path", "checked"),
    [
        ("bends.offset_constants.rows.0.multiplier", "from memory"),
        ("bends.offset_constants.rows.1.multiplier", "two sources"),
        ("bends.hand_bender_shoe.rows.0.take_up", "two sources"),
        ("bends.hand_bender_shoe.rows.0.radius", "computed"),
        ("bends.room_on_the_tube.hook_needs", "from memory"),
        ("support.emt.max_spacing", "two sources"),
        ("bends.hand_bender_shoe.rows.0.trade_size", ""),
    ],
)
def test_the_nearest_word_on_how_a_fact_was_checked_counts(path, checked):
    assert how_checked(path) == checked
