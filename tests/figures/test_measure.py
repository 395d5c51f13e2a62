import pytest

from trainer.figures.measure import Box, text_box, text_width, wrap


def test_bold_text_takes_more_room():
    assert text_width("12-3/8 in", "fig-text fig-mark-text") > text_width("12-3/8 in", "fig-text")


def test_a_box_lies_where_its_anchor_says():
    start, middle, end = (text_box(100, 50, "spacing", anchor) for anchor in ("start", "middle", "end"))

    assert start.left == 100
    assert end.right == 100
    assert middle.left + middle.right == pytest.approx(200)
    assert start.top < 50 < start.bottom


def test_boxes_that_share_an_edge_do_not_meet():
    box = Box(0, 0, 10, 10)

    assert not box.meets(Box(10, 0, 20, 10))
    assert not box.meets(Box(0, 10, 10, 20))
    assert box.meets(Box(9, 9, 20, 20))


def test_a_word_that_is_too_wide_stands_alone():
    assert wrap("a superlongword b", 30) == ["a", "superlongword", "b"]


def test_wrapped_lines_keep_every_word():
    words = "On each pencil mark: the bender's take-up mark, hook toward the obstacle."

    lines = wrap(words, 150)

    assert " ".join(lines) == words
    assert all(text_width(line) <= 150 for line in lines)
    assert wrap("", 100) == []
