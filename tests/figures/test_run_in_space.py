from random import Random

import pytest

from trainer.calc.layout_draw import DRAWS
from trainer.figures.catalogue import draw_figure


def sheet_of(sound, say, legs, **more):
    return sound(draw_figure("run_in_space", {"legs": legs}, say=say, **more))


@pytest.mark.parametrize("seed", range(40))
def test_any_run_is_sound(sound, in_english, seed):
    values = DRAWS["run_in_space"](Random(seed))

    sound(draw_figure("run_in_space", values, say=in_english, solved=seed % 2 == 0, wrong={"up": 12.0}))


def test_each_leg_is_named_where_it_is_seen(sound, in_english):
    texts = sheet_of(sound, in_english, "30 ahead, 20 up, 16 left").texts

    assert texts.count("1: 30 in") == 2
    assert texts.count("2: 20 in") == texts.count("3: 16 in") == 1


def test_the_end_is_told_only_when_solved(sound, in_english):
    legs = "30 ahead, 20 up, 16 right"

    assert any("16 in right, 20 in up" in text for text in [" ".join(sheet_of(sound, in_english, legs).texts)])
    assert not any("Seen from" in text for text in sheet_of(sound, in_english, legs, solved=False).texts)
