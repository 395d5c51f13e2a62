from __future__ import annotations

import pytest

from trainer.calc.runs import Legs, read_run
from trainer.text.words import say


def test_stretches_stand_with_commas_between_and_legs_with_a_plus():
    assert read_run("60 ft, 12 in + 40 ft + 1 ft") == (Legs((720,)), Legs((12, 480, 12)))


@pytest.mark.parametrize("text", ["3x 9 ft 6 in", "3 x 9 ft 6 in", "(3) 9 ft 6 in", "3* 9' 6\"", "114; 114\n114"])
def test_equal_stretches_can_be_counted(text):
    assert read_run(text) == (Legs((114,)),) * 3


def test_legs_that_are_counted_can_stand_in_brackets():
    assert read_run("2x (12 + 30)") == (Legs((12, 30)),) * 2


@pytest.mark.parametrize("text", ["60 ft", "12 in + 40-1/2 in + 3/8 in"])
def test_legs_as_written_read_back(text):
    (legs,) = read_run(text)

    assert read_run(str(legs)) == (legs,)
    assert say(legs.message())


def test_between_legs_there_is_a_bend():
    assert [legs.bends for legs in read_run("10, 10 + 10, 10 + 10 + 10")] == [0, 1, 2]


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("", "runs.not-understood"),
        ("12 +", "runs.not-understood"),
        ("+ 12", "runs.not-understood"),
        ("long", "runs.not-understood"),
        ("0 ft", "runs.no-length"),
        ("12 + 0", "runs.no-length"),
        ("0x 12", "input.no-times"),
        ("999x 12", "input.too-many-items"),
        ("12, " * 200, "input.list-too-long"),
    ],
)
def test_what_is_no_run_is_refused(text, reason, refused):
    error = refused(read_run, text)

    assert error.reason.id == reason
    assert read_run(error.example)
