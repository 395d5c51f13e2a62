from __future__ import annotations

import pytest

from trainer.calc.catalogue import CATALOGUE
from trainer.calc.marks import Datum, End, Mark, Reference
from trainer.figures.marked_tube import draw_marked_tube
from trainer.figures.words import Words


def marks_of(name, **more):
    calculation = CATALOGUE[name]
    return calculation.solve(calculation.read(calculation.example_inputs) | more).marks


@pytest.mark.parametrize("name", ["offset", "three_point_saddle", "four_point_saddle", "stub_up", "kick"])
def test_every_mark_stands_on_the_tube_with_its_number(sound, in_english, name):
    marks = marks_of(name)
    sheet = sound(draw_marked_tube(marks, Words(in_english)))

    assert sorted(position for position, _, _ in sheet.at("mark")) == pytest.approx(
        sorted(mark.position for mark in marks), abs=0.001
    )
    assert {f"bend {mark.order}" for mark in marks} <= set(sheet.texts)
    places = [x for _, x, _ in sorted(sheet.at("mark"))]
    assert places == sorted(places)


def test_the_arrows_point_as_the_hooks_do(sound, in_english):
    left = Mark(10.0, End.MEASURED, Reference.TAKE_UP, End.MEASURED, 90.0, 0.0, False, 1)
    right = Mark(30.0, End.MEASURED, Reference.TAKE_UP, End.FAR, 90.0, 0.0, False, 2)
    sheet = sound(draw_marked_tube([left, right], Words(in_english)))
    at = {position: x for position, x, _ in sheet.at("mark")}
    tips = [float(head.get("d").split()[1]) for head in sheet.all("path", "fig-mark-head")]

    assert any(tip < at[10.0] for tip in tips)
    assert any(tip > at[30.0] for tip in tips)


def test_what_is_marked_later_is_left_out(sound, in_english):
    later = Mark(40.0, Datum.BACK, Reference.BACK_OF_BEND, End.FAR, 90.0, 0.0, True, 2)
    sheet = sound(draw_marked_tube([*marks_of("stub_up"), later], Words(in_english)))

    assert len(sheet.at("mark")) == 1
    assert draw_marked_tube([later], Words(in_english)) == ""


def test_of_many_marks_the_outermost_are_named(sound, in_english):
    marks = marks_of("segment_bend", distance=60.0, shots=15)
    sheet = sound(draw_marked_tube(marks, Words(in_english)))

    assert len(sheet.at("mark")) == 15
    assert [text for text in sheet.texts if text.startswith("bend ")] == ["bend 15", "bend 1"]
