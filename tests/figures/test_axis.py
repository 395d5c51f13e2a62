import pytest

from trainer.figures.axis import axis_for


def test_a_tube_that_is_seen_whole_has_one_scale():
    axis = axis_for(0, 40)

    assert not axis.is_broken
    assert axis.x(0) == axis.left
    assert axis.x(40) == pytest.approx(axis.right)
    assert axis.x(20) == pytest.approx((axis.left + axis.right) / 2)


def test_a_long_empty_stretch_is_broken_out_at_the_same_scale():
    axis = axis_for(60, 90)

    assert axis.is_broken
    assert axis.x(axis.kept) < axis.x(30) < axis.x(60)
    assert axis.x(30) == axis.break_middle
    assert axis.x(90) - axis.x(60) == pytest.approx(30 * axis.scale)
    assert axis.x(axis.kept) - axis.x(0) == pytest.approx(axis.kept * axis.scale)
    assert axis.right == pytest.approx(348)
