from __future__ import annotations

import pytest

from trainer.calc.catalogue import CATALOGUE
from trainer.calc.layout_compare import stick_for
from trainer.calc.marks import End, Mark, Reference
from trainer.calc.message import InputError
from trainer.calc.shoes import DEFAULT_SHOE
from trainer.figures.bent_tube import draw_bent_tube
from trainer.figures.words import Words


def bent(in_english, marks):
    return draw_bent_tube(marks, DEFAULT_SHOE, stick_for(marks), Words(in_english))


def marks_of(name, **more):
    calculation = CATALOGUE[name]
    result = calculation.solve(calculation.read(calculation.example_inputs) | more)
    return getattr(result, "marks_arc", result.marks)


def outline(sheet):
    numbers = sheet.all("path", "fig-tube")[0].get("d").replace("M", "").replace("L", "").replace("Z", "").split()
    points = list(zip(map(float, numbers[::2]), map(float, numbers[1::2]), strict=True))
    half = len(points) // 2
    return [
        ((x0 + x1) / 2, (y0 + y1) / 2)
        for (x0, y0), (x1, y1) in zip(points[:half], reversed(points[half:]), strict=True)
    ]


@pytest.mark.parametrize(
    "name", ["offset", "three_point_saddle", "four_point_saddle", "stub_up", "back_to_back", "kick", "rolling_offset"]
)
def test_every_bend_is_numbered(sound, in_english, name):
    marks = marks_of(name)
    sheet = sound(bent(in_english, marks))

    assert {f"{mark.order}: {mark.angle:g}°" for mark in marks} <= set(sheet.texts)


def test_an_offset_is_drawn_to_scale(sound, in_english):
    line = outline(sound(bent(in_english, marks_of("offset", depth=6.0, angle=30.0))))

    rise = line[0][1] - line[-1][1]
    legs = line[1][0] - line[0][0]
    assert rise / legs == pytest.approx(6 / 14, rel=0.01)


def test_a_stub_stands_up_and_its_run_lies_level(sound, in_english):
    line = outline(sound(bent(in_english, marks_of("stub_up"))))

    assert line[0][0] == pytest.approx(line[1][0], abs=0.1)
    assert line[0][1] < line[-1][1]
    assert line[-2][1] == pytest.approx(line[-1][1], abs=0.1)


def test_back_to_back_both_stubs_stand_up(sound, in_english):
    line = outline(sound(bent(in_english, marks_of("back_to_back"))))
    lowest = max(y for _, y in line)

    assert line[0][1] < lowest - 40
    assert line[-1][1] < lowest - 40


def test_what_does_not_lie_flat_is_shown_from_above_too(sound, in_english):
    marks = [
        Mark(20.0, End.MEASURED, Reference.TAKE_UP, End.MEASURED, 90.0, 0.0, False, 1),
        Mark(50.0, End.MEASURED, Reference.TAKE_UP, End.MEASURED, 30.0, 90.0, False, 2),
    ]
    sheet = sound(bent(in_english, marks))

    assert {"From the side", "From above"} <= set(sheet.texts)
    assert len(sheet.all("path", "fig-tube")) == 2


def test_of_many_bends_the_first_and_the_last_are_numbered(sound, in_english):
    sheet = sound(bent(in_english, marks_of("segment_bend", distance=60.0, shots=10)))

    assert sorted(sheet.texts) == ["10: 9°", "1: 9°"]


def test_arcs_that_run_into_each_other_are_refused(in_english):
    marks = [
        Mark(20.0, End.MEASURED, Reference.TAKE_UP, End.FAR, 90.0, 0.0, False, 1),
        Mark(22.0, End.MEASURED, Reference.TAKE_UP, End.FAR, 90.0, 180.0, False, 2),
    ]
    with pytest.raises(InputError):
        bent(in_english, marks)
