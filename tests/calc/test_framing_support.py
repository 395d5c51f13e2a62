from __future__ import annotations

import pytest

from trainer.calc.framing_support import FRAMING, framing_support


@pytest.mark.parametrize(
    ("spacing", "carried", "straps"), [(16, True, 2), (120, True, 2), (121, False, 4), (180, False, 4)]
)
def test_openings_not_more_than_ten_feet_apart_carry_the_run(spacing, carried, straps):
    found = framing_support(360, "frames", spacing)

    assert (found.carried, found.straps) == (carried, straps)


@pytest.mark.parametrize("run", [100, 252, 361.5, 456])
@pytest.mark.parametrize("spacing", [16, 24, 48, 50])
def test_the_fasteners_near_the_ends_are_within_reach(run, spacing):
    first, last = framing_support(run, "joists", spacing).positions

    assert 0 < first <= 36
    assert run - 36 <= last < run


def test_a_piece_that_one_fastener_reaches_takes_one():
    assert framing_support(72, "joists", 16).positions == (36,)


def test_a_stricter_place_holds_the_openings_to_its_own_distance():
    assert not framing_support(360, "frames", 108, max_spacing=96, max_from_end=24).carried


@pytest.mark.parametrize(("edge", "short"), [(0.75, 0.5), (1.25, 0), (3, 0)])
def test_what_a_hole_lacks_to_the_edge_is_told(edge, short):
    assert framing_support(360, "wood-studs", 16, edge).edge_short == short


@pytest.mark.parametrize(
    ("values", "field"),
    [((0, "joists", 16), "run_length"), ((360, "poles", 16), "framing"), ((360, FRAMING[0], 0), "spacing")],
)
def test_what_lies_outside_its_range_is_refused_by_its_name(values, field, refused):
    assert refused(framing_support, *values).field == field
