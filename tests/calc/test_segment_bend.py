from __future__ import annotations

from itertools import pairwise

import pytest

from trainer.calc.marks import End, Reference
from trainer.calc.segment_bend import segment_bend
from trainer.calc.shoes import DEFAULT_SHOES


def test_the_shots_share_angle_and_developed_length():
    result = segment_bend(30, 90, 15)

    assert (result.shot_angle, result.developed_length, result.setback) == pytest.approx((6, 47.124, 30), abs=1e-3)
    assert result.shot_spacing == result.developed_length / 15
    assert result.first_shot == result.shot_spacing / 2


def test_bends_around_one_centre_grow_by_their_spacing():
    """Each further tube has the spacing between centres more in its radius."""
    inner, outer = segment_bend(30, 90, 15), segment_bend(32, 90, 15)

    assert outer.developed_length - inner.developed_length == pytest.approx(3.14159, abs=1e-4)


def test_the_first_shot_lies_half_a_spacing_behind_where_the_curve_begins():
    result = segment_bend(30, 90, 15, 60)

    assert result.first_mark == pytest.approx(60 - 30 + result.first_shot)


def test_the_marks_are_evenly_spaced_from_the_far_shot_back():
    result = segment_bend(30, 90, 15, 60)
    positions = [mark.position for mark in result.marks]

    assert len(positions) == 15
    assert positions[-1] == result.first_mark
    assert [before - behind for before, behind in pairwise(positions)] == pytest.approx([result.shot_spacing] * 14)
    assert {mark.reference for mark in result.marks} == {Reference.SADDLE_CENTRE}
    assert {mark.hook_toward for mark in result.marks} == {End.FAR}
    assert [mark.order for mark in result.marks] == list(range(1, 16))


@pytest.mark.parametrize(("shots", "more"), [(3, 0.7), (15, 0.03), (30, 0.01)])
def test_with_few_shots_the_arc_of_the_shoe_asks_for_wider_spacing(shots, more):
    result = segment_bend(30, 90, shots)

    assert 0 < result.shot_spacing_arc - result.shot_spacing < more


def test_without_a_distance_there_are_no_marks():
    result = segment_bend(30, 90, 15)

    assert (result.first_mark, result.first_mark_arc, result.marks, result.marks_arc) == (None, None, (), ())


def test_a_shoe_wider_than_the_bend_has_no_arc_answer():
    result = segment_bend(4, 90, 6, 30)

    assert result.marks
    assert (result.shot_spacing_arc, result.first_mark_arc, result.marks_arc) == (None, None, ())


def test_a_curve_that_begins_before_the_tube_is_refused_with_the_least_distance(refused):
    error = refused(segment_bend, 30, 90, 15, 30)

    assert error.field == "distance"
    assert segment_bend(30, 90, 15, error.accepted.params["least"].value + 1e-9).marks


def test_half_of_a_wide_shot_needs_more_tube_than_the_hook(refused):
    shoe = DEFAULT_SHOES["1-1/4"]
    error = refused(segment_bend, 20, 120, 2, 26, shoe)

    assert error.reason.params["needed"].value == pytest.approx(9.6 * 1.0471975512 / 2)


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"radius": 0}, "radius"),
        ({"angle": 171}, "angle"),
        ({"shots": 1}, "shots"),
        ({"shots": 101}, "shots"),
        ({"distance": 0}, "distance"),
    ],
)
def test_what_is_impossible_is_refused(values, field, refused):
    assert refused(segment_bend, **{"radius": 30, "angle": 90, "shots": 15, **values}).field == field


def test_a_neighbour_outside_round_the_same_centre_is_a_bend_of_its_own_radius():
    outer = segment_bend(30, 90, 15, 80, centre_spacing=3, neighbour=2)
    alone = segment_bend(36, 90, 15, 80)

    assert outer == alone
    assert (outer.own_radius, segment_bend(30, 90, 15).own_radius) == (36, 30)
