"""
Marks against a bender that is played through: one that stands still while a tube is slid, rolled, swung and bent.

The tube is a row of points with a row of chalk points beside it. Nothing is known of feeds and rolls along the tube:
each bend turns the points on the hook's side about the shoe's centre.
"""

from __future__ import annotations

import math
from itertools import pairwise, permutations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from trainer.calc.layout import lay_out
from trainer.calc.layout_marks import bends_on_stick, bent_by_marks, half_turns, mark_to_arc
from trainer.calc.layout_reach import bend_reach
from trainer.calc.marks import Datum, End, Mark, Reference
from trainer.calc.shoes import DEFAULT_SHOE, DEFAULT_SHOES

STICK = 120.0
STATIONS = np.linspace(0, STICK, 241)
UP = np.array([0.0, 0.0, 1.0])


def turn_about(axis, degrees):
    """Right-handed rotation matrix."""
    x, y, z = axis
    skew = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])
    turn = math.radians(degrees)
    return np.eye(3) + math.sin(turn) * skew + (1 - math.cos(turn)) * skew @ skew


def play_through(marks, shoe):
    """Points of the centreline after all bends. The hook always points along +x, and the shoe lies above the tube."""
    line = np.stack([STATIONS, 0 * STATIONS, 0 * STATIONS], axis=1)
    chalk = line + UP
    along, chalk_side, hook = None, UP, None
    for mark in sorted(marks, key=lambda mark: mark.order):
        if hook is None:
            along = np.array([1.0, 0, 0]) if mark.hook_toward == End.FAR else np.array([-1.0, 0, 0])
        elif mark.hook_toward != hook:  # Swung around flat on the floor.
            along, chalk_side = turn_about(UP, 180) @ along, turn_about(UP, 180) @ chalk_side
        hook = mark.hook_toward
        chalk_side = turn_about(along, mark.roll) @ chalk_side  # Clockwise for one who looks along the tube.
        line, chalk = bend_once(line, chalk, mark, shoe, along, chalk_side)
    return line


def bend_once(line, chalk, mark, shoe, along, chalk_side):
    pencil = mark.position if mark.measured_from == End.MEASURED else STICK - mark.position
    toward = 1 if mark.hook_toward == End.FAR else -1
    beside_hook = pencil - toward * shoe.mark_to_arc
    # Signed stations from the arc's beginning, above 0 on the hook's side; the tube is put there straight.
    ahead = toward * (STATIONS - beside_hook)
    arc = shoe.radius * math.radians(mark.angle)
    first, last = np.flatnonzero((ahead <= 1.5) & (ahead >= -arc - 1.5))[[0, -1]]  # Straight until now.
    axis = line[last] - line[first]
    here = np.stack([axis / np.linalg.norm(axis), chalk[first] - line[first]])
    there = np.stack([along, chalk_side])
    rotation = frame_of(there).T @ frame_of(here)
    moved = (line - line[first]) @ rotation.T + np.array([ahead[first], 0, 0])
    chalked = (chalk - line) @ rotation.T
    centre = np.array([-arc, 0, shoe.radius])
    turned, offset = moved.copy(), chalked.copy()
    for number, value in enumerate(ahead):
        if value > -arc:
            degrees = min(value + arc, arc) / shoe.radius * 180 / math.pi
            swing = turn_about(np.array([0, -1.0, 0]), degrees)  # From +x up toward +z.
            wrapped = np.array([-arc, 0, 0]) if value <= 0 else moved[number] - np.array([arc, 0, 0])
            turned[number] = centre + swing @ (wrapped - centre)
            offset[number] = swing @ chalked[number]
    return turned, turned + offset


def frame_of(pair):
    return np.stack([pair[0], pair[1], np.cross(pair[0], pair[1])])


def furthest_apart(points, others):
    """After the best rigid motion, no mirror allowed, the largest distance between points of the same number."""
    a, b = points - points.mean(axis=0), others - others.mean(axis=0)
    left, _, right = np.linalg.svd(a.T @ b)
    flip = np.diag([1, 1, np.sign(np.linalg.det(left @ right))])
    return np.linalg.norm(a @ (left @ flip @ right) - b, axis=1).max()


def points_of(marks, shoe):
    tube = lay_out(bent_by_marks(marks, shoe, STICK))
    return np.array([[point.x, point.y, point.z] for point in map(tube.at, STATIONS)])


#: Far enough apart that no arc meets another, whichever way the hook points.
PLACES = (20.0, 46.5, 73.25, 100.0)


@st.composite
def marks_in_any_order(draw):
    count = draw(st.integers(1, 4))
    order = draw(st.sampled_from(list(permutations(range(count)))))
    ends = st.sampled_from(End)
    marks = []
    for turn, place in enumerate(order, start=1):
        origin = draw(ends)
        position = PLACES[place] if origin == End.MEASURED else STICK - PLACES[place]
        roll, angle = draw(st.floats(-360, 360)), draw(st.floats(5, 90))
        marks.append(Mark(position, origin, Reference.TAKE_UP, draw(ends), angle, roll, draw(st.booleans()), turn))
    return marks


@given(marks_in_any_order())
def test_marks_bend_as_the_bender_played_through_bends(marks):
    assert furthest_apart(points_of(marks, DEFAULT_SHOE), play_through(marks, DEFAULT_SHOE)) < 1e-6


def test_the_bender_played_through_tells_left_from_right():
    """The comparison above would be worth nothing if a roll to the other side passed it."""
    marks = [take_up(20, roll=0, order=1), take_up(60, roll=90, order=2)]
    mirrored = [marks[0], replace(marks[1], roll=-90)]

    assert furthest_apart(points_of(marks, DEFAULT_SHOE), play_through(mirrored, DEFAULT_SHOE)) > 1


def take_up(position, *, hook=End.MEASURED, angle=90.0, roll=0.0, order=1, reference=Reference.TAKE_UP):
    return Mark(position, End.MEASURED, reference, hook, angle, roll, False, order)


@pytest.mark.parametrize("shoe", DEFAULT_SHOES.values(), ids=lambda shoe: shoe.trade_size)
def test_with_the_take_up_mark_a_90_stands_its_take_up_away(shoe):
    tube = lay_out(bent_by_marks([take_up(20)], shoe, STICK))

    assert bend_reach(tube.bends[0], tube.legs[0].along, shoe.outside_diameter) == pytest.approx(20 + shoe.take_up)


@pytest.mark.parametrize("shoe", DEFAULT_SHOES.values(), ids=lambda shoe: shoe.trade_size)
@pytest.mark.parametrize("hook", End)
def test_with_the_back_of_bend_mark_the_back_of_a_90_stands_at_the_pencil_mark(shoe, hook):
    mark = take_up(60, hook=hook, reference=Reference.BACK_OF_BEND)
    tube = lay_out(bent_by_marks([mark], shoe, STICK))
    flat = tube if hook == End.FAR else tube.from_other_end()  # The leg that stays down, tape along it.

    reach = bend_reach(flat.bends[0], flat.legs[0].along, shoe.outside_diameter)
    assert reach - flat.start.dot(flat.legs[0].along) == pytest.approx(60)


@pytest.mark.parametrize("angle", [22.5, 45, 60, 90])
@pytest.mark.parametrize("hook", End)
def test_with_the_saddle_centre_mark_the_middle_of_the_arc_is_at_the_pencil_mark(angle, hook):
    mark = take_up(60, hook=hook, angle=angle, reference=Reference.SADDLE_CENTRE)
    (bend,) = bends_on_stick([mark], DEFAULT_SHOE, STICK)

    assert (bend.start + bend.end) / 2 == pytest.approx(60)


@pytest.mark.parametrize("reference", Reference)
def test_with_any_reference_the_arc_lies_the_other_way_around_when_the_hook_does(reference):
    toward_far = take_up(60, hook=End.FAR, angle=30, reference=reference)
    (far,) = bends_on_stick([toward_far], DEFAULT_SHOE, STICK)
    (near,) = bends_on_stick([replace(toward_far, hook_toward=End.MEASURED)], DEFAULT_SHOE, STICK)

    assert far.start + near.end == pytest.approx(120)
    assert far.end + near.start == pytest.approx(120)


def test_with_the_take_up_mark_the_arc_lies_on_the_side_away_from_the_hook():
    (toward_far,) = bends_on_stick([take_up(60, hook=End.FAR)], DEFAULT_SHOE, STICK)
    (toward_measured,) = bends_on_stick([take_up(60, hook=End.MEASURED)], DEFAULT_SHOE, STICK)

    assert toward_far.start < toward_far.end < 60 < toward_measured.start < toward_measured.end
    assert 60 - toward_far.end == pytest.approx(DEFAULT_SHOE.mark_to_arc)


def test_the_back_of_bend_reference_is_a_fixed_point_of_the_shoe():
    assert mark_to_arc(Reference.BACK_OF_BEND, 30, DEFAULT_SHOE) == mark_to_arc(
        Reference.BACK_OF_BEND, 90, DEFAULT_SHOE
    )


def test_a_mark_from_the_far_end_is_the_same_as_one_from_the_measured_end():
    from_far = Mark(100, End.FAR, Reference.TAKE_UP, End.FAR, 30, 0, False, 1)

    assert bent_by_marks([from_far], DEFAULT_SHOE, STICK) == bent_by_marks(
        [take_up(20, hook=End.FAR, angle=30)], DEFAULT_SHOE, STICK
    )


def test_rolls_add_up_in_the_order_of_bending_not_along_the_tube():
    marks = [take_up(20, roll=0, order=1), take_up(100, roll=90, order=2), take_up(60, roll=90, order=3)]
    program = bent_by_marks(marks, DEFAULT_SHOE, STICK)

    assert [move.roll for move in program.moves] == pytest.approx([0, 180, -90])


def test_the_program_is_as_long_as_the_stick():
    program = bent_by_marks([take_up(20), take_up(80, order=2)], DEFAULT_SHOE, STICK)

    assert program.length == pytest.approx(STICK)


@given(st.floats(-3000, 3000))
def test_half_turns_leaves_the_direction_and_lies_between_minus_180_and_180(angle):
    turns = half_turns(angle)

    assert -180 < turns <= 180 + 1e-9
    assert math.cos(math.radians(turns - angle)) == pytest.approx(1)


def test_no_roll_is_never_written_as_minus_nothing():
    assert str(half_turns(-360)) == "0.0"


@given(st.floats(8, 40), st.floats(12, 60), st.floats(-180, 180), st.floats(15, 90), st.sampled_from(End))
def test_a_mark_from_the_back_of_the_first_bend_lies_where_the_tape_says(stub, distance, roll, angle, hook):
    """A 90 leaves the tape straight along the second leg: from its back to the pencil mark."""
    first = take_up(stub)
    marks = [first, Mark(distance + 12, Datum.BACK, Reference.SADDLE_CENTRE, hook, angle, roll, False, 2)]
    tube = lay_out(bent_by_marks(marks, DEFAULT_SHOE, STICK + 40))
    bend = tube.bends[1]
    leg = tube.legs[1]

    back = -bend_reach(tube.bends[0], -leg.along, DEFAULT_SHOE.outside_diameter)
    pencil = bend.start.dot(leg.along) + bend.length / 2  # Where it was before its arc was bent.
    assert pencil - back == pytest.approx(distance + 12)


def test_the_back_of_the_bend_made_first_counts_not_of_the_one_that_lies_first():
    """A bend nearer to the measured end, made second, leaves the third mark where it is."""
    first = take_up(40)
    third = Mark(30, Datum.BACK, Reference.TAKE_UP, End.FAR, 30, 0, False, 3)
    between = take_up(15, angle=30, order=2)

    alone = bends_on_stick([first, replace(third, order=2)], DEFAULT_SHOE, STICK)[1]
    assert bends_on_stick([first, between, third], DEFAULT_SHOE, STICK)[2].pencil == pytest.approx(alone.pencil)


def test_without_a_first_bend_nothing_is_measured_from_its_back(refused):
    alone = Mark(30, Datum.BACK, Reference.TAKE_UP, End.FAR, 30, 0, False, 1)

    assert refused(bends_on_stick, [alone], DEFAULT_SHOE, STICK).reason.id == "layout.no-back"


def test_a_back_of_bend_mark_that_was_measured_lies_where_the_shop_says():
    own = replace(DEFAULT_SHOE, own_back_mark=DEFAULT_SHOE.back_mark + 0.25)
    mark = take_up(60, reference=Reference.BACK_OF_BEND)
    (usual,), (off,) = (bends_on_stick([mark], shoe, STICK) for shoe in (DEFAULT_SHOE, own))

    assert usual.start - off.start == pytest.approx(0.25)


def test_the_places_of_these_tests_leave_room_for_every_arc():
    arc = DEFAULT_SHOE.radius * math.pi / 2 + DEFAULT_SHOE.mark_to_arc

    assert all(there - here > 2 * arc for here, there in pairwise((0, *PLACES, STICK)))
