"""Hands-on checks: every kind in every size, and how what was measured is held against the sheet."""

from __future__ import annotations

import json
from math import radians, sin

import pytest
from msgspec.structs import replace

from trainer.calc.bent_cut_length import bent_cut_length
from trainer.calc.message import InputError
from trainer.calc.offset import offset
from trainer.calc.shoes import DEFAULT_SHOES
from trainer.calc.straps import strap_count
from trainer.problems.hands_on import KINDS, Reading, Sheet, agreement, draw_sheet, judge, pictured, read_measured
from trainer.problems.shelf import content_root

EVERY = [(kind, size) for kind in KINDS.values() for size in kind.sizes]
SEEDS = range(200)


def right(sheet):
    return {one.id: Reading("", one.value) for one in sheet.measured}


def done(sheet, *but):
    return {one.id: one.id not in but for one in sheet.steps}


def given(sheet):
    return {one.id: one.value for one in sheet.measured}


@pytest.mark.parametrize(("kind", "size"), EVERY, ids=lambda one: getattr(one, "id", one))
def test_every_kind_finds_numbers_in_each_of_its_sizes(kind, size):
    for seed in SEEDS:
        sheet = draw_sheet(kind, size, seed)

        assert sheet == draw_sheet(kind, size, seed)
        assert all(0 < piece <= 26 * 12 for piece in sheet.pieces)
        assert all(value > 0 for mark in sheet.marks for _, value in mark.values)
        assert len({one.id for one in (*sheet.measured, *sheet.steps)}) == len(sheet.measured) + len(sheet.steps)
        assert judge(sheet, right(sheet), done(sheet)).passed
        assert "{" not in sheet.text


@pytest.mark.parametrize(("kind", "size"), EVERY, ids=lambda one: getattr(one, "id", one))
def test_a_sheet_is_kept_and_comes_back_the_same(kind, size):
    sheet = draw_sheet(kind, size, 5)

    assert Sheet.from_json(json.loads(json.dumps(sheet.to_json()))) == sheet


@pytest.mark.parametrize("kind", KINDS.values(), ids=lambda one: one.id)
def test_eye_protection_fails_the_whole_and_each_kind_names_a_lesson_there_is(kind):
    sheet = draw_sheet(kind, "1/2", 1)
    judged = judge(sheet, right(sheet), done(sheet, "eyes"))

    assert not judged.passed
    assert judged.critical == ("eyes",)
    assert (content_root() / "lessons" / f"{kind.shape.lesson}.md").exists()
    assert kind.shape.figure is None or pictured(sheet).startswith("<svg")


@pytest.mark.parametrize("size", KINDS["offset"].sizes)
def test_an_offset_by_each_multiplier_comes_out_inside_the_limit(size):
    for seed in SEEDS:
        sheet = draw_sheet(KINDS["offset"], size, seed)
        asked = given(sheet)
        worked = offset(asked["depth"], asked["first-angle"], shoe=DEFAULT_SHOES[size])
        for spacing in (worked.spacing, worked.spacing_handbook):
            out = (spacing - worked.spacing_arc) * sin(radians(asked["first-angle"]))
            assert abs(out) < sheet.measured[0].limit


def test_the_marks_are_the_core_s():
    sheet = draw_sheet(KINDS["four-bend-run"], "3/4", 3)
    asked, numbers = given(sheet), {one.say: dict(one.values) for one in sheet.marks}
    inputs = sheet.figure_inputs
    tube = bent_cut_length(
        (asked["first"], asked["run"], asked["last"]),
        DEFAULT_SHOES["3/4"].outside_gain,
        offset_depth=inputs["offset_depth"],
        shrink_per_inch=inputs["shrink_per_inch"],
    ).tube

    assert numbers["Length to cut"][""] == pytest.approx(tube)
    assert sheet.pieces == (pytest.approx(tube),)
    straps = draw_sheet(KINDS["strap-a-run"], "1/2", 3)
    assert given(straps)["straps"] == strap_count(straps.pieces[0]).straps


def test_the_shop_s_own_shoe_moves_the_mark():
    shoe = replace(DEFAULT_SHOES["1/2"], take_up=5.5)
    usual, own = (draw_sheet(KINDS["stub-up"], "1/2", 11, shoe=one, bender="red") for one in (None, shoe))

    assert (usual.bender, own.bender) == ("", "red")
    assert own.marks[0].values[0][1] == given(own)["stub"] - 5.5


def test_a_size_that_the_kind_is_not_set_in_is_refused():
    with pytest.raises(ValueError, match="not in 1"):
        draw_sheet(KINDS["three-point-saddle"], "1", 1)


def test_a_value_beyond_its_limit_fails_and_one_other_step_does_not():
    sheet = draw_sheet(KINDS["offset"], "1/2", 1)
    depth = sheet.measured[0]
    at, beyond = depth.value + 0.125, depth.value + 0.1875

    assert judge(sheet, right(sheet) | {"depth": Reading("", at)}, done(sheet, "foot")).passed
    assert not judge(sheet, right(sheet), done(sheet, "foot", "plane")).passed
    failed = judge(sheet, right(sheet) | {"depth": Reading("", beyond)}, done(sheet, "foot", "burrs"))
    assert (failed.passed, failed.misses) == (False, ("burrs", "depth", "foot"))


def test_what_the_tape_reads_is_typed_in_any_form_and_nonsense_is_told_kindly():
    sheet = draw_sheet(KINDS["offset"], "1/2", 1)
    measures = {one.id: one for one in sheet.measured}

    assert read_measured(measures["depth"], "6 1/16").value == 6.0625
    assert read_measured(measures["dog-leg"], "0").value == 0
    assert read_measured(measures["first-angle"], "29.5").value == 29.5
    for typed in ("", "about six", "6 deg"):
        with pytest.raises(InputError) as raised:
            read_measured(measures["depth"], typed)
        assert raised.value.field == "depth"


def test_two_judges_agree_on_what_both_saw():
    sheet = draw_sheet(KINDS["offset"], "1/2", 1)
    first = judge(sheet, right(sheet), done(sheet, "foot"))
    second = judge(sheet, right(sheet), done(sheet, "plane"))
    points = len(sheet.measured) + len(sheet.steps)

    assert agreement(sheet, first, first) == (points, points)
    assert agreement(sheet, first, second) == (points - 2, points)
