import re

import pytest

from trainer.figures.catalogue import draw_figure
from trainer.figures.wall import WALLS


@pytest.mark.parametrize("shows", WALLS)
def test_a_wall_is_sound_and_has_no_numbers(sound, in_english, shows):
    sheet = sound(draw_figure("wall", {"shows": shows}, say=in_english))

    assert not re.search(r"\d", " ".join(sheet.texts))


def test_both_ends_of_each_dimension_are_where_their_words_say(sound, in_english):
    sheet = sound(draw_figure("wall", {"shows": "across"}, say=in_english))

    boxes = [(float(box.get("x")), float(box.get("width"))) for box in sheet.all("rect", "fig-box")]
    ends = {float(line.get("x1")) for line in sheet.all("line", "fig-dim-thin")}
    faces = {boxes[0][0] + boxes[0][1], boxes[1][0]}
    centres = {left + width / 2 for left, width in boxes}
    assert faces | centres <= ends
