from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.calc.layout import BendProgram, Move, lay_out
from trainer.calc.layout_measure import (
    back_to_back,
    corner,
    corner_distance,
    crown_height,
    full_height_distance,
    leg_angle,
    leg_offset,
    out_of_plane,
    station_from_back,
    stub_height,
)
from trainer.calc.layout_space import START, Frame, Vector

OD = 0.706


def offset(angle=30.0, radius=4.5, between=8.0, roll=180.0):
    return lay_out(BendProgram((Move(20, 0, angle, radius), Move(between, roll, angle, radius)), 30))


def u_shape(flat=20.0, radius=4.5):
    return lay_out(BendProgram((Move(12, 0, 90, radius), Move(flat, 0, 90, radius)), 12))


@given(st.floats(2, 88), st.floats(1, 12), st.floats(0, 40))
def test_an_offset_as_deep_as_its_own_sharp_corners(angle, radius, between):
    tube = offset(angle, radius, between)
    travel = corner(tube, 1) - corner(tube, 0)

    assert leg_offset(tube, 0, 2) == pytest.approx(travel.length * math.sin(math.radians(angle)))
    assert leg_angle(tube, 0, 2) == pytest.approx(0, abs=1e-9)
    assert leg_angle(tube, 0, 1) == pytest.approx(angle)


def test_the_sharp_corner_is_where_both_legs_would_meet():
    tube = lay_out(BendProgram((Move(20, 0, 90, 4.5), Move(10, 37, 60, 4.5)), 30))

    for bend in (0, 1):
        met = corner(tube, bend)
        for leg in (tube.legs[bend], tube.legs[bend + 1]):
            assert (met - leg.start).across(leg.along).length < 1e-9
    assert corner_distance(tube, 0) == pytest.approx(24.5)


def test_full_height_is_reached_behind_the_corner():
    tube = offset(angle=60)

    assert full_height_distance(tube, 1) - corner_distance(tube, 1) == pytest.approx(4.5 * math.tan(math.radians(30)))


def test_a_u_measured_over_its_backs():
    tube = u_shape(flat=20)

    assert leg_offset(tube, 0, 2) == pytest.approx(29)
    assert back_to_back(tube, 0, 2, OD) == pytest.approx(29 + OD)


def test_a_stub_measured_from_its_end_to_the_back():
    assert stub_height(u_shape(), OD) == pytest.approx(12 + 4.5 + OD / 2)
    assert stub_height(u_shape().from_other_end(), OD) == pytest.approx(12 + 4.5 + OD / 2)


@given(st.floats(10, 90))
def test_an_open_stub_reaches_less_far(angle):
    tube = lay_out(BendProgram((Move(12, 0, angle, 4.5),), 12))

    assert stub_height(tube, OD) == pytest.approx(12 + (4.5 + OD / 2) * math.sin(math.radians(angle)))


def test_measures_do_not_depend_on_where_the_tube_lies():
    start = Frame(Vector(3, -40, 7), Vector(0, 0.6, 0.8), Vector(1, 0, 0))
    program = BendProgram((Move(12, 0, 90, 4.5), Move(20, 20, 45, 4.5)), 12)
    here, there = lay_out(program), lay_out(program, start)

    for measure in (
        lambda tube: stub_height(tube, OD),
        lambda tube: corner_distance(tube, 1),
        lambda tube: full_height_distance(tube, 1),
        lambda tube: crown_height(tube, 1),
        lambda tube: station_from_back(tube, 1, 9, OD),
        out_of_plane,
    ):
        assert measure(there) == pytest.approx(measure(here))


def test_out_of_plane_says_to_which_side():
    assert out_of_plane(offset()) == pytest.approx(0, abs=1e-12)
    assert out_of_plane(offset(roll=90)) > 1
    assert out_of_plane(offset(roll=-90)) == pytest.approx(-out_of_plane(offset(roll=90)))


def test_a_crown_is_as_high_as_the_outermost_point_of_its_arc():
    angle, radius, between = 22.5, 4.5, 6.0
    moves = (Move(20, 0, angle, radius), Move(between, 180, 45, radius), Move(between, 180, angle, radius))
    tube = lay_out(BendProgram(moves, 20))
    highest = max(point.z for point in tube.points(0.001))

    assert crown_height(tube, 1) == pytest.approx(highest, abs=1e-6)
    assert leg_offset(tube, 0, 3) == pytest.approx(0, abs=1e-9)


def test_a_mark_from_the_back_of_a_bend_lies_that_far_from_the_outside_of_the_leg():
    tube = u_shape(flat=30)
    marked = tube.at(station_from_back(tube, 1, 25, OD))

    assert marked.z - (-OD / 2) == pytest.approx(25)


def test_the_first_leg_lies_along_the_start():
    assert offset().legs[0].along == START.along
