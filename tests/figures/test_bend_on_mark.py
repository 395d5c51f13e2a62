from __future__ import annotations

import math

import pytest

from trainer.calc.layout_marks import mark_to_arc
from trainer.calc.marks import Datum, End, Mark, Reference
from trainer.calc.shoes import DEFAULT_SHOES
from trainer.figures.bend_on_mark import draw_bend_on_mark
from trainer.figures.words import Words

TAKE_UP = Mark(41.625, End.MEASURED, Reference.TAKE_UP, End.FAR, 30.0, 0.0, False, 1)


def drawn(sound, in_english, mark, size="1/2"):
    return sound(draw_bend_on_mark(mark, DEFAULT_SHOES[size], Words(in_english)))


def mark(reference=Reference.TAKE_UP, hook=End.FAR, angle=30.0, **more):
    values = {"position": 20.0, "measured_from": End.MEASURED, "roll": 0.0, "end_for_end": False, "order": 1}
    return Mark(reference=reference, hook_toward=hook, angle=angle, **(values | more))


@pytest.mark.parametrize("size", DEFAULT_SHOES)
@pytest.mark.parametrize("reference", Reference)
@pytest.mark.parametrize("hook", End)
@pytest.mark.parametrize("angle", [10.0, 22.5, 45.0, 90.0])
def test_the_arc_lies_away_from_the_hook_by_what_the_core_says(sound, in_english, size, reference, hook, angle):
    sheet = drawn(sound, in_english, mark(reference, hook, angle), size)
    shoe = DEFAULT_SHOES[size]

    ((_, pencil, _),) = sheet.at("mark")
    arc = sheet.all("rect", "fig-bent-part")[0]
    start, width = float(arc.get("x")), float(arc.get("width"))
    scale = width / (shoe.radius * math.radians(angle))
    beside_hook = start if hook == End.MEASURED else start + width
    away = 1 if hook == End.MEASURED else -1
    assert (beside_hook - pencil) * away == pytest.approx(mark_to_arc(reference, angle, shoe) * scale, abs=0.03)


def test_the_hook_stands_where_the_instruction_says(sound, in_english):
    for hook, side in ((End.FAR, 1), (End.MEASURED, -1)):
        sheet = drawn(sound, in_english, mark(hook=hook))
        ((_, pencil, _),) = sheet.at("mark")
        claw = sheet.all("path", "fig-part")[1].get("d").split()[1]

        assert (float(claw) - pencil) * side > 20


def test_the_tape_reads_the_position_at_the_pencil_mark(sound, in_english):
    sheet = drawn(sound, in_english, TAKE_UP)
    ((position, pencil, _),) = sheet.at("mark")
    numbers = {float(text.text): float(text.get("x")) for text in sheet.all("text", "fig-tape-text")}

    (low, at_low), (high, at_high) = min(numbers.items()), max(numbers.items())
    read = low + (pencil - at_low) / (at_high - at_low) * (high - low)
    assert position == pytest.approx(41.625)
    assert read == pytest.approx(41.625, abs=0.01)


def test_it_says_reference_and_position(sound, in_english):
    sheet = drawn(sound, in_english, TAKE_UP)

    assert "take-up mark on 41-5/8 in" in sheet.texts
    assert "30° bend lies here" in sheet.texts
    assert "← end you measure from" in sheet.texts


def test_a_short_stub_shows_the_end_of_the_tube(sound, in_english):
    sheet = drawn(sound, in_english, mark(hook=End.MEASURED, angle=90.0, position=4.0))
    ((_, pencil, _),) = sheet.at("mark")
    tube = sheet.all("rect", "fig-tube")[0]

    scale = 99 / DEFAULT_SHOES["1/2"].radius
    assert pencil - float(tube.get("x")) == pytest.approx(4 * scale, abs=0.02)


def test_a_mark_from_the_back_of_a_bend_says_so(sound, in_english):
    from_back = mark(Reference.BACK_OF_BEND, angle=90.0, position=40.0, measured_from=Datum.BACK, end_for_end=True)
    sheet = drawn(sound, in_english, from_back)

    assert "← back of bend 1" in sheet.texts
    assert any(text.startswith("Swing the tube end for end") for text in sheet.texts)


def test_from_the_far_end_the_numbers_grow_to_the_left(sound, in_english):
    sheet = drawn(sound, in_english, mark(measured_from=End.FAR))
    numbers = [(float(text.get("x")), float(text.text)) for text in sheet.all("text", "fig-tape-text")]

    assert [number for _, number in sorted(numbers)] == sorted((number for _, number in numbers), reverse=True)


@pytest.mark.parametrize("roll", [180.0, 90.0, -90.0, 37.0, -37.0])
def test_a_roll_is_drawn_the_way_it_goes(sound, in_english, roll):
    sheet = drawn(sound, in_english, mark(roll=roll))
    circle = sheet.all("circle", "fig-tube")[0]
    centre = float(circle.get("cx")), float(circle.get("cy"))
    hand = next(line for line in sheet.all("line", "fig-mark") if abs(float(line.get("x1")) - centre[0]) < 5)

    across, up = float(hand.get("x2")) - centre[0], centre[1] - float(hand.get("y2"))
    assert math.degrees(math.atan2(across, up)) % 360 == pytest.approx(roll % 360, abs=0.5)


def test_the_first_bend_of_a_tube_as_it_lies_asks_for_no_roll(sound, in_english):
    assert drawn(sound, in_english, TAKE_UP).all("circle", "fig-tube") == []
