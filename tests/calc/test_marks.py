from __future__ import annotations

import pytest

from trainer.calc.marks import Datum, End, Mark, Reference
from trainer.text.words import say


def instruction(*, roll=0.0, end_for_end=False, measured_from=End.MEASURED):
    return say(Mark(40.5, measured_from, Reference.TAKE_UP, End.FAR, 30.0, roll, end_for_end, 2).message())


@pytest.mark.parametrize(
    ("roll", "end_for_end", "turn"),
    [
        (0, False, "tube as it lies;"),
        (180, False, "roll the tube over, 180°;"),
        (-180, False, "roll the tube over, 180°;"),
        (90, False, "roll the tube 90° clockwise, seen from the measured end;"),
        (-90, False, "roll the tube 90° counterclockwise, seen from the measured end;"),
        (0, True, "turn the tube end for end, flat on the floor, same side up;"),
        (
            -36.87,
            True,
            (
                "turn the tube end for end, flat on the floor, same side up, then roll the tube 36.9° counterclockwise, "
                "seen from the measured end;"
            ),
        ),
    ],
)
def test_an_instruction_says_how_the_tube_is_turned_before_the_bend(roll, end_for_end, turn):
    assert instruction(roll=roll, end_for_end=end_for_end).startswith(f"Bend 2, 30°: {turn} mark 40-1/2 in from ")


def test_an_instruction_says_what_goes_on_the_mark_and_where_the_hook_points():
    assert instruction().endswith("the bender's take-up mark on it, hook toward the far end.")


@pytest.mark.parametrize(
    ("measured_from", "words"),
    [
        (End.MEASURED, "from the end where measuring starts,"),
        (End.FAR, "from the far end,"),
        (Datum.BACK, "from the back of the first bend,"),
    ],
)
def test_an_instruction_says_where_the_tape_starts(measured_from, words):
    assert f"mark 40-1/2 in {words}" in instruction(measured_from=measured_from)
