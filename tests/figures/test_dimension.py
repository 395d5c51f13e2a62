import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.figures.dimension import Dimension, dimension_upright, dimensions_below
from trainer.figures.svg import Drawing

spans = st.tuples(st.floats(12, 340), st.floats(1, 300)).map(lambda pair: (pair[0], min(348, pair[0] + pair[1])))


@given(st.lists(spans, max_size=6))
def test_any_dimensions_lie_inside_and_touch_nothing(sound, chosen):
    drawing = Drawing()
    items = [Dimension(start, end, f"{end - start:.0f}-15/16 in") for start, end in chosen]

    bottom = dimensions_below(drawing, items, 0)

    sheet = sound(drawing.finish(-5, bottom + 5, "title", "about"))
    assert sheet.texts.count("") == 0
    assert len(sheet.texts) == len(items)


def rows(dimensions):
    drawing = Drawing()
    dimensions_below(drawing, dimensions, 0)
    return [round(box.top) for box in drawing.boxes]


def test_a_chain_of_dimensions_shares_a_row():
    first, second = rows([Dimension(12, 112, "8 in"), Dimension(112, 212, "8 in")])

    assert first == second


def test_a_longer_one_lies_further_out():
    whole, part = rows([Dimension(12, 300, "whole"), Dimension(12, 112, "part")])

    assert sorted([whole, part]) == [whole, part]
    assert whole != part


def test_a_length_wider_than_what_it_measures_stands_beside_it():
    drawing = Drawing()

    dimensions_below(drawing, [Dimension(100, 110, "12-3/8 in")], 0)

    assert drawing.boxes[0].left > 110


def test_at_the_right_edge_it_stands_on_the_left():
    drawing = Drawing()

    dimensions_below(drawing, [Dimension(335, 345, "12-3/8 in")], 0)

    assert drawing.boxes[0].right < 335


@pytest.mark.parametrize(("height", "arrows_inside"), [(100, True), (8, False)])
def test_an_upright_dimension_turns_its_arrows_out_where_it_is_short(height, arrows_inside):
    drawing = Drawing()

    dimension_upright(drawing, 100, (0, height), "6 in")

    svg = drawing.finish(-20, height + 20, "title", "about")
    assert ('y2="100"' in svg) == arrows_inside


@pytest.mark.parametrize(
    ("x", "side", "left_of_line"),
    [(100, "right", False), (100, "left", True), (350, "right", True), (8, "left", False)],
)
def test_upright_words_stand_on_the_side_asked_for_if_they_fit(x, side, left_of_line):
    drawing = Drawing()

    box = dimension_upright(drawing, x, (0, 50), "6 in", side=side)

    assert (box.right < x) == left_of_line


def test_words_without_room_in_or_beside_the_line_stand_beneath_it(sound):
    drawing = Drawing()

    bottom = dimensions_below(drawing, [Dimension(130, 230, "yours 12-15/16 inches")], 0)

    sheet = sound(drawing.finish(-5, bottom, "title", "about"))
    line = sheet.all("line", "fig-dim")[0]
    assert (line.get("x1"), line.get("x2")) == ("130", "230")
    assert drawing.boxes[0].top > float(line.get("y1"))
