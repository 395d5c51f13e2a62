from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from trainer.calc.layout import BendProgram, Move, lay_out
from trainer.calc.layout_marks import bent_by_marks
from trainer.calc.layout_path import Turn, fit_path, path_of_legs
from trainer.calc.layout_plan import marks_of, plan_bends
from trainer.calc.layout_room import check_room
from trainer.calc.layout_space import Vector
from trainer.calc.marks import End, Reference
from trainer.calc.message import InputError
from trainer.calc.shoes import DEFAULT_SHOE
from trainer.text.words import error_text

STICK = 240.0
LEGS = st.floats(15, 50)
TURNS = st.builds(Turn, st.floats(5, 90), st.floats(-180, 180))
PATHS = st.integers(0, 4).flatmap(
    lambda corners: st.tuples(
        st.lists(LEGS, min_size=corners + 1, max_size=corners + 1), st.lists(TURNS, min_size=corners, max_size=corners)
    )
)
U_SHAPE = path_of_legs([12, 30, 12], [Turn(90), Turn(90)])


def same_bends(one, other):
    """Every feed, angle and roll between bends; how the first bend lies is free, and so is the tail."""
    return all(
        math.isclose(here.feed, there.feed, abs_tol=1e-6)
        and math.isclose(here.angle, there.angle)
        and (not number or math.isclose(math.cos(math.radians(here.roll - there.roll)), 1, abs_tol=1e-9))
        for number, (here, there) in enumerate(zip(one.moves, other.moves, strict=True))
    )


@given(PATHS, st.sampled_from([None, *End]))
def test_bent_by_the_marks_of_its_plan_the_tube_follows_the_path(path, hook):
    legs, turns = path
    assume(sum(turn.angle for turn in turns) <= 360)
    points = path_of_legs(legs, turns)
    plan = plan_bends(points, DEFAULT_SHOE, STICK, hook=hook)
    made = bent_by_marks(plan.marks, DEFAULT_SHOE, STICK)

    assert same_bends(made, plan.program)
    assert made.length - plan.left_over == pytest.approx(plan.developed_length)
    check_room(plan.marks, DEFAULT_SHOE, STICK)


@given(PATHS, st.data())
def test_marks_make_their_program_whichever_hooks_and_order_are_taken(path, data):
    legs, turns = path
    assume(sum(turn.angle for turn in turns) <= 360)
    program = fit_path(path_of_legs(legs, turns), DEFAULT_SHOE).program
    bends = range(len(program.moves))
    hooks = [data.draw(st.sampled_from(End)) for _ in bends]
    order = data.draw(st.permutations(list(bends)))
    marks = marks_of(program, DEFAULT_SHOE, hooks, order)

    assert same_bends(bent_by_marks(marks, DEFAULT_SHOE, program.length), program)
    assert [mark.order for mark in marks] == list(range(1, len(marks) + 1))


def test_a_mark_is_a_whole_instruction():
    offset = path_of_legs([30, 12, 30], [Turn(30), Turn(30, 180)])
    first, second = plan_bends(offset, DEFAULT_SHOE, 120).marks

    assert {mark.measured_from for mark in (first, second)} == {End.MEASURED}
    assert {mark.reference for mark in (first, second)} == {Reference.TAKE_UP}
    assert {mark.hook_toward for mark in (first, second)} == {End.MEASURED}
    assert (first.roll, second.roll) == (0, 180)
    assert (first.angle, second.angle) == pytest.approx((30, 30))
    assert not first.end_for_end
    assert not second.end_for_end


def test_where_one_way_leaves_no_room_for_the_hook_another_is_taken():
    """A short first leg: hook toward the measured end has no room, hook toward the far end has."""
    points = path_of_legs([1.5, 40], [Turn(15)])
    plan = plan_bends(points, DEFAULT_SHOE, 120)

    assert [mark.hook_toward for mark in plan.marks] == [End.FAR]
    with pytest.raises(InputError) as refusal:
        plan_bends(points, DEFAULT_SHOE, 120, hook=End.MEASURED)
    assert refusal.value.reason.id == "layout.room.end"


def test_two_bends_close_together_are_bent_the_far_one_first_with_the_same_hook():
    points = path_of_legs([20, 4, 20], [Turn(30), Turn(30, 180)])
    marks = plan_bends(points, DEFAULT_SHOE, 120).marks

    assert [mark.hook_toward for mark in marks] == [End.MEASURED] * 2
    assert marks[0].position > marks[1].position


def test_between_two_ends_too_short_for_the_hook_it_points_inward_and_the_tube_is_turned_end_for_end():
    points = path_of_legs([1.5, 20, 1.5], [Turn(15), Turn(15, 180)])
    length = fit_path(points, DEFAULT_SHOE).program.length
    first, second = plan_bends(points, DEFAULT_SHOE, length).marks

    assert (first.hook_toward, second.hook_toward) == (End.FAR, End.MEASURED)
    assert (first.end_for_end, second.end_for_end) == (False, True)
    assert first.position < second.position


def test_the_stick_must_hold_the_developed_length_and_what_is_over_is_cut_off():
    length = plan_bends(U_SHAPE, DEFAULT_SHOE, 120).developed_length
    plan = plan_bends(U_SHAPE, DEFAULT_SHOE, length + 3)

    assert plan.left_over == pytest.approx(3)
    with pytest.raises(InputError) as refusal:
        plan_bends(U_SHAPE, DEFAULT_SHOE, length - 0.1)
    assert refusal.value.reason.id == "layout.plan.stick"
    assert refusal.value.field == "stick"
    assert "{" not in error_text(refusal.value)


def test_where_no_way_leaves_room_the_plainest_way_says_why():
    points = path_of_legs([1.5, 2.5, 1.5], [Turn(15), Turn(15, 180)])
    length = fit_path(points, DEFAULT_SHOE).program.length

    with pytest.raises(InputError) as refusal:
        plan_bends(points, DEFAULT_SHOE, length)
    assert refusal.value.reason.id == "layout.room.end"
    assert refusal.value.field == "marks"
    assert "{" not in error_text(refusal.value)


def test_a_straight_run_takes_no_marks():
    plan = plan_bends([Vector(0, 0, 0), Vector(50, 0, 0)], DEFAULT_SHOE, 120)

    assert plan.marks == ()
    assert plan.left_over == 70


def test_the_program_of_a_plan_ends_where_the_path_ends():
    plan = plan_bends(U_SHAPE, DEFAULT_SHOE, 120)

    assert lay_out(plan.program).length == pytest.approx(plan.developed_length)


def test_a_program_without_bends_has_no_marks():
    assert marks_of(BendProgram((), 40), DEFAULT_SHOE, [], []) == ()
    assert len(marks_of(BendProgram((Move(10, 0, 30, 4.5),), 40), DEFAULT_SHOE, [End.FAR], [0])) == 1
