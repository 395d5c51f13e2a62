"""Settings of the bender judged by the bend: every right way counts, whatever its parts, and no other does."""

from __future__ import annotations

from itertools import product

import pytest

from trainer.calc.back_to_back import back_to_back
from trainer.calc.bender_settings import Fit, Roll, Setting, setting_job
from trainer.calc.four_point_saddle import four_point_saddle
from trainer.calc.kick import kick
from trainer.calc.layout_compare import NINETY, bent_by
from trainer.calc.marks import Datum, End, Reference
from trainer.calc.offset import offset
from trainer.calc.shoes import DEFAULT_SHOES
from trainer.calc.stub_up import stub_up
from trainer.calc.three_point_saddle import three_point_saddle

TAKE_UP, BACK, CENTRE = Reference.TAKE_UP, Reference.BACK_OF_BEND, Reference.SADDLE_CENTRE
NEAR, FAR = End.MEASURED, End.FAR


def right(job, pencils, rolls=(None,)):
    every = product(pencils, Reference, End, rolls)
    return {one for one in every if job.fit(Setting(*one)) is Fit.RIGHT}


@pytest.mark.parametrize("size", ["1/2", "3/4", "1"])
def test_a_stub_is_bent_by_the_take_up_mark_or_by_the_back_mark_and_by_no_other_setting(size):
    stub = stub_up(18, size)
    job = setting_job({"trade_size": size}, stub.marks, 1)

    assert right(job, (stub.mark, 18.0, 18 + stub.take_up)) == {
        (stub.mark, TAKE_UP, NEAR, None),
        (18.0, BACK, FAR, None),
    }


def test_a_take_up_of_its_own_moves_the_back_mark_of_the_shoe_with_it():
    job = setting_job({"take_up": 5.5}, stub_up(18, take_up=5.5).marks, 1)

    assert right(job, (12.5, 13.0, 18.0)) == {(12.5, TAKE_UP, NEAR, None), (18.0, BACK, FAR, None)}


@pytest.mark.parametrize("way", ["by-back-mark", "by-take-up"])
def test_the_second_90_has_two_ways_whichever_the_core_was_asked_for(way):
    job = setting_job({}, back_to_back(40, 14, way=way).marks, 2)
    as_it_lies = Roll.AS_IT_LIES

    assert right(job, (35.0, 40.0), tuple(Roll)) == {(35.0, TAKE_UP, NEAR, as_it_lies), (40.0, BACK, FAR, as_it_lies)}


def test_a_way_without_room_for_the_hook_is_neither_right_nor_simply_wrong():
    job = setting_job({}, back_to_back(11, 14).marks, 2)

    assert job.fit(Setting(11.0, BACK, FAR)) is Fit.RIGHT
    assert job.fit(Setting(6.0, TAKE_UP, NEAR)) is Fit.UNCLEAR


@pytest.mark.parametrize("hook", End)
def test_the_second_bend_of_an_offset_takes_the_hook_of_the_first_and_half_a_turn(hook):
    result = offset(6, 30, 60, hook=hook)
    job = setting_job({}, result.marks, 2)
    second = result.second_mark if hook == FAR else result.first_mark

    assert right(job, (result.first_mark, result.second_mark), tuple(Roll)) == {(second, TAKE_UP, hook, Roll.OVER)}


def test_the_middle_of_a_saddle_takes_the_hook_either_way_and_the_outer_bends_either_order():
    saddle = three_point_saddle(4, 45, 60)
    marks = (saddle.near_mark, saddle.centre_mark, saddle.far_mark)

    assert right(setting_job({}, saddle.marks, 1), marks) == {
        (saddle.centre_mark, CENTRE, NEAR, None),
        (saddle.centre_mark, CENTRE, FAR, None),
    }
    assert right(setting_job({}, saddle.marks, 2, any_left=True), marks, tuple(Roll)) == {
        (saddle.near_mark, TAKE_UP, FAR, Roll.OVER),
        (saddle.far_mark, TAKE_UP, NEAR, Roll.OVER),
    }
    assert right(setting_job({}, saddle.marks, 2), marks, tuple(Roll)) == {(saddle.near_mark, TAKE_UP, FAR, Roll.OVER)}


def test_the_roll_that_is_right_depends_on_which_bend_is_made_next():
    saddle = four_point_saddle(6, 12, 30, clearance=1, distance=40)
    marks = (saddle.near_outer_mark, saddle.near_inner_mark, saddle.far_inner_mark)

    assert right(setting_job({}, saddle.marks, 3, any_left=True), marks, tuple(Roll)) == {
        (saddle.near_inner_mark, TAKE_UP, FAR, Roll.AS_IT_LIES),
        (saddle.near_outer_mark, TAKE_UP, FAR, Roll.OVER),
    }


@pytest.mark.parametrize(("turn", "left"), [("clockwise", 0.5), ("counterclockwise", -0.5)])
def test_a_kick_behind_a_90_goes_left_after_a_quarter_turn_clockwise(turn, left):
    marks = kick(6, 30, measured_from=Datum.BACK, turn=turn).marks_arc
    tube = bent_by((NINETY, *marks), DEFAULT_SHOES["1/2"])
    to_the_left = (-tube.legs[0].along).cross(tube.legs[1].along)

    assert tube.legs[2].along.dot(to_the_left) == pytest.approx(left)
    job = setting_job({}, marks, 2)
    assert job.fit(Setting(roll=Roll(turn))) is Fit.RIGHT
    assert {job.fit(Setting(roll=roll)) for roll in Roll if roll != turn} == {Fit.WRONG}


def test_an_instruction_says_whether_the_tube_is_swung_around_after_the_bend_before():
    job = setting_job({}, back_to_back(40, 14).marks, 2)

    assert not job.made(Setting(35.0, TAKE_UP, NEAR)).end_for_end
    assert job.made(Setting(40.0, BACK, FAR)).end_for_end
