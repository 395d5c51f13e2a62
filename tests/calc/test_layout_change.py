from __future__ import annotations

import math

import pytest
from msgspec.structs import replace

from trainer.calc.layout_change import bent, dog_leg, far_end_effects, sensitivity, slipped
from trainer.calc.layout_measure import corner_distance, leg_angle, leg_offset
from trainer.calc.marks import End, Mark, Reference
from trainer.calc.shoes import DEFAULT_SHOE

STICK = 120.0


def take_up(position, order, *, angle=30.0, roll=0.0, hook=End.MEASURED):
    return Mark(position, End.MEASURED, Reference.TAKE_UP, hook, angle, roll, False, order)


OFFSET = (take_up(30, 1), take_up(42, 2, roll=180))
SADDLE = (take_up(30, 1, angle=22.5), take_up(42, 2, angle=45, roll=180), take_up(54, 3, angle=22.5, roll=180))


def depth(tube):
    return leg_offset(tube, 0, 2)


def test_a_slip_changes_one_mark_only():
    moved = slipped(SADDLE, 2, along=0.25, angle=3)

    assert moved == (SADDLE[0], replace(SADDLE[1], position=42.25, angle=48), SADDLE[2])


def test_a_roll_too_far_is_rolled_back_for_the_next_bend():
    assert [mark.roll for mark in slipped(SADDLE, 2, roll=5)] == [0, 185, 175]
    assert [mark.roll for mark in slipped(SADDLE, 3, roll=5)] == [0, 180, 185]


def test_an_eighth_between_the_marks_changes_the_depth_by_its_part_across():
    first, second = sensitivity(OFFSET, DEFAULT_SHOE, STICK, depth)

    assert first.eighth == pytest.approx(-0.125 * math.sin(math.radians(30)))
    assert second.eighth == pytest.approx(0.125 * math.sin(math.radians(30)))


def test_an_eighth_on_both_marks_shifts_the_offset_and_keeps_its_depth():
    both = [replace(mark, position=mark.position + 0.125) for mark in OFFSET]
    right, shifted = bent(OFFSET, DEFAULT_SHOE, STICK), bent(both, DEFAULT_SHOE, STICK)

    assert depth(shifted) == pytest.approx(depth(right))
    assert corner_distance(shifted, 1) - corner_distance(right, 1) == pytest.approx(0.125)


def test_a_degree_on_one_bend_is_a_degree_between_the_legs():
    def out_of_parallel(tube):
        return 5 - leg_angle(tube, 0, 2)

    crooked = (OFFSET[0], replace(OFFSET[1], angle=25))
    first, second = sensitivity(crooked, DEFAULT_SHOE, STICK, out_of_parallel)

    assert first.degree == pytest.approx(-1)
    assert second.degree == pytest.approx(1)


def test_the_far_end_moves_by_a_degree_of_its_distance_from_the_end_of_the_arc():
    (effect,) = far_end_effects([take_up(30, 1)], DEFAULT_SHOE, STICK)
    tube = bent([take_up(30, 1)], DEFAULT_SHOE, STICK)
    swing = (tube.end - tube.bends[0].end).length * math.radians(1)

    assert effect.degree == pytest.approx(swing, rel=0.01)
    assert effect.eighth == pytest.approx(2 * 0.125 * math.sin(math.radians(15)))
    assert effect.roll == pytest.approx(tube.end.z * math.radians(1), rel=1e-3)


def test_a_dog_leg_leaves_the_plane_as_fast_as_both_angles_say():
    """The far leg leans out by the sine of the bend times the sine of the roll error."""
    found = dog_leg(OFFSET, DEFAULT_SHOE, STICK, order=2, roll_error=4)

    assert abs(found.per_foot) == pytest.approx(12 * math.sin(math.radians(30)) * math.sin(math.radians(4)))
    assert abs(found.at_end) > abs(found.per_foot) * 5


def test_a_dog_leg_goes_to_the_other_side_when_rolled_the_other_way():
    one, other = (dog_leg(OFFSET, DEFAULT_SHOE, STICK, 2, error) for error in (3, -3))

    assert one.at_end == pytest.approx(-other.at_end)
    assert one.per_foot == pytest.approx(-other.per_foot)


def test_rolled_right_there_is_no_dog_leg():
    found = dog_leg(SADDLE, DEFAULT_SHOE, STICK, order=2, roll_error=0)

    assert found.at_end == pytest.approx(0, abs=1e-9)
    assert found.per_foot == pytest.approx(0, abs=1e-9)


def test_the_far_end_effect_of_a_small_slip_is_the_sensitivity_of_where_the_end_lies():
    effects = far_end_effects(OFFSET, DEFAULT_SHOE, STICK)
    heights = sensitivity(OFFSET, DEFAULT_SHOE, STICK, lambda tube: tube.end.z)

    assert all(abs(height.degree) <= effect.degree * 1.01 for height, effect in zip(heights, effects, strict=True))
