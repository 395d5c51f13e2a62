import re

from trainer.figures.hatch import hatch, section
from trainer.figures.svg import Drawing

SQUARE = [(0, 0), (20, 0), (20, 20), (0, 20)]


def ends(data):
    numbers = [float(number) for number in re.findall(r"-?\d+(?:\.\d+)?", data)]
    return list(zip(numbers[::4], numbers[1::4], numbers[2::4], numbers[3::4], strict=True))


def test_hatching_stays_inside_and_slants():
    lines = ends(hatch(SQUARE))

    assert len(lines) >= 4
    for x1, y1, x2, y2 in lines:
        assert all(-0.01 <= value <= 20.01 for value in (x1, y1, x2, y2))
        assert round(x2 - x1, 1) == round(y1 - y2, 1)


def test_neighbours_slant_the_other_way():
    for x1, y1, x2, y2 in ends(hatch(SQUARE, leftward=True)):
        assert round(x2 - x1, 1) == round(y2 - y1, 1)


def test_a_hollow_is_left_out():
    hollow = [(0, 0), (30, 0), (30, 10), (20, 10), (20, 4), (10, 4), (10, 10), (0, 10)]

    for x1, y1, x2, y2 in ends(hatch(hollow, 3)):
        middle_x, middle_y = (x1 + x2) / 2, (y1 + y2) / 2
        assert not (10.1 < middle_x < 19.9 and middle_y > 4.1)


def test_a_face_too_small_for_hatching_keeps_its_outline():
    drawing = Drawing()

    section(drawing, [(0.1, 0.1), (0.2, 0.1), (0.2, 0.2)], "fig-part")

    assert drawing.finish(0, 1, "title", "about").count("<path") == 1
