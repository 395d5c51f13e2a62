from __future__ import annotations

import pytest

from trainer.calc.ways import Direction, Way, read_ways
from trainer.text.words import say


@pytest.mark.parametrize("text", ["30 in ahead", "ahead 30", "2 ft 6 in ahead", " 2' 6\" AHEAD ", "762 mm ahead"])
def test_a_leg_is_read_in_many_ways(text):
    assert read_ways(text) == (Way(Direction.AHEAD, 30),)


def test_a_leg_as_written_reads_back():
    (leg,) = read_ways("down 18-3/8")

    assert read_ways(str(leg)) == (leg,)
    assert say(leg.message()) == "18-3/8 in down"


@pytest.mark.parametrize("direction", Direction)
def test_every_direction_has_its_words(direction):
    assert say(Way(direction, 12).message()) == f"12 in {direction}"


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("30 in", "ways.one-direction"),
        ("30 in up left", "ways.one-direction"),
        ("30 in ahead, up", "ways.not-understood"),
        ("0 in up", "ways.no-length"),
        ("x up", "ways.not-understood"),
        (", ".join(["12 up", "12 ahead"] * 7), "input.too-many-items"),
        ("1 up," * 200, "input.list-too-long"),
        ("", "ways.one-direction"),
    ],
)
def test_what_is_no_list_of_legs_is_refused(refused, text, reason):
    assert refused(read_ways, text).reason.id == reason
