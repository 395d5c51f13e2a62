from __future__ import annotations

import pytest

from trainer.calc.stretches import Stretch, read_stretches
from trainer.text.words import say


@pytest.mark.parametrize(
    "text",
    ["42 to 49", "42 in to 49 in", "3' 6\" to 4 ft 1 in", "42–49", "42..49", " 42 IN  TO 49 ", "1066.8 mm to 49"],
)
def test_a_stretch_is_read_in_many_ways(text):
    assert read_stretches(text) == (Stretch(42, 49),)


def test_several_stand_with_commas_semicolons_or_lines_between():
    assert read_stretches("1 to 2, 3 to 4; 5 to 6\n7 to 8") == tuple(Stretch(n, n + 1) for n in (1, 3, 5, 7))


def test_a_stretch_as_written_reads_back():
    (stretch,) = read_stretches("42-1/2 to 49-3/8")

    assert read_stretches(str(stretch)) == (stretch,)
    assert say(stretch.message()) == "42-1/2 in to 49-3/8 in"


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("", "stretches.two-ends"),
        ("42", "stretches.two-ends"),
        ("1 to 2 to 3", "stretches.two-ends"),
        ("1 to", "stretches.not-understood"),
        ("big to small", "stretches.not-understood"),
        ("9 to 4", "stretches.backward"),
        ("9 to 9", "stretches.backward"),
        ("1 to 2, " * 100, "input.list-too-long"),
    ],
)
def test_what_is_no_stretch_is_refused(text, reason, refused):
    error = refused(read_stretches, text)

    assert error.reason.id == reason
    assert read_stretches(error.example)
