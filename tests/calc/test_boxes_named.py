"""Boxes are found by the names that people give them."""

from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.calc.boxes_named import BOXES, read_box
from trainer.calc.message import InputError


@pytest.mark.parametrize("name", BOXES)
def test_every_box_is_found_by_its_own_name(name):
    assert read_box(name) == BOXES[name]


@pytest.mark.parametrize(
    "text",
    [
        "4 x 1-1/2 square",
        "square 4x1-1/2",
        "4 in. square, 1-1/2 in. deep",
        "4 sq. x 1 1/2",
        '4" square box 1-1/2" deep',
        "4 x 4 x 1-1/2 square",
        "4×1–1/2 sq",
        "4 by 1-1/2 metal square box",
    ],
)
def test_a_box_is_read_in_all_its_ways(text):
    assert read_box(text).name == "4 x 1-1/2 square"


@pytest.mark.parametrize(
    ("text", "volume"),
    [
        ("4-11/16 x 2-1/8", 42.0),
        ("3 x 2 x 2-1/2", 12.5),
        ("4 x 2-1/8 x 1-7/8 handy", 13.0),
        ("4 x 1-1/2 round", 15.5),
        ("FS", 13.5),
        ("fs box, single gang", 13.5),
        ("FS 2 gang", 36.0),
        ("3-gang FD", 72.0),
        ("masonry 3-3/4 x 2 x 3-1/2, two gang", 42.0),
        ("20.3 cu in", 20.3),
        ("20.3", 20.3),
        ("21 in³", 21.0),
        ("500 cu cm", 500 / 2.54**3),
    ],
)
def test_its_volume_is_that_of_the_table_or_the_marking(text, volume):
    assert read_box(text).volume == pytest.approx(volume)


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("", "boxes.not-understood"),
        ("box", "boxes.not-understood"),
        ("4 x 1-1/2 hexagonal", "boxes.not-understood"),
        ("square round 4 x 1-1/2", "boxes.not-understood"),
        ("4 x 1-1/2", "boxes.which"),
        ("4 x 3 square", "boxes.no-such-box"),
        ("square", "boxes.no-such-box"),
        ("4 x 1-1/2 square 2 gang", "boxes.not-by-gangs"),
        ("FS 99 gang", "boxes.gangs"),
        ("FS 0 gang", "boxes.gangs"),
        ("0 cu in", "boxes.no-such-volume"),
        ("5000 cu in", "boxes.no-such-volume"),
        ("4 x 1-1/2 square " * 4, "number.too-long"),
        ("-21 cu in", "boxes.not-understood"),
        ("21 cu yards", "number.unknown-unit"),
    ],
)
def test_no_other_box_is_taken(text, reason):
    with pytest.raises(InputError) as refused:
        read_box(text)

    assert refused.value.reason.id == reason
    assert refused.value.given == text


@given(st.text(max_size=45) | st.text('0123456789/- x.squaredviconfgm"', max_size=40))
def test_no_text_breaks_the_reader(text):
    with suppress(InputError):
        assert read_box(text).volume > 0


def test_a_box_says_its_name():
    assert str(read_box("FS")) == "FS"
