from __future__ import annotations

import pytest

from trainer.calc.offset import offset
from trainer.calc.slip_made import slip_made, tube_with_slip


def test_a_forgotten_shrink_moves_an_offset_by_the_shrink_and_leaves_its_depth():
    result = slip_made("offset", "shrink-forgotten", 8, 30, 50)

    assert result.size_off == pytest.approx(0, abs=1e-6)
    assert result.place_off == pytest.approx(-offset(8, 30).shrink_arc, abs=1e-6)


def test_a_shrink_taken_off_moves_it_twice_as_far():
    once, twice = (slip_made("offset", f"shrink-{how}", 8, 30, 50).place_off for how in ("forgotten", "taken-off"))

    assert twice == pytest.approx(2 * once)


def test_marks_a_depth_apart_make_it_half_as_deep_at_thirty_degrees():
    assert slip_made("offset", "not-multiplied", 8, 30, 50).size == pytest.approx(4, abs=0.1)


def test_hooks_the_other_way_make_it_late_and_not_less_deep():
    result = slip_made("offset", "hook-other-way", 8, 30, 50)

    assert result.size_off == pytest.approx(0, abs=1e-6)
    assert result.place_off > 1


def test_a_slip_of_a_saddle():
    low = slip_made("three-point-saddle", "hook-away-from-centre", 5, 45, 50)

    assert low.size_off < -0.5
    assert abs(low.place_off) < 0.3


def test_slips_that_look_alike_are_not_told_apart():
    """One inch of shrink forgotten, or an inch burned on the tape."""
    like_an_inch = next(depth / 16 for depth in range(40, 200) if abs(offset(depth / 16, 30).shrink_arc - 1) < 1 / 32)

    assert not slip_made("offset", "shrink-forgotten", like_an_inch, 30, 50).told_apart
    assert slip_made("offset", "shrink-forgotten", 8, 30, 50).told_apart


def test_a_slip_that_the_bend_does_not_know_is_refused(refused):
    assert refused(slip_made, "offset", "take-up-on-centre", 6, 30, 40).reason.id == "slip_made.not-here"
    assert refused(tube_with_slip, "three-point-saddle", "not-multiplied", 6, 45, 40).field == "slip"
    assert refused(slip_made, "kick", "shrink-forgotten", 6, 30, 40).field == "bend"
