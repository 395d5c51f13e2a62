import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trainer.calc.kick import kick
from trainer.calc.marks import Datum
from trainer.figures.catalogue import draw_figure


def sheet_of(sound, say, rise, bend, **more):
    inputs = {"rise": rise, "angle": bend, "measured_from": "back-of-first-bend"}
    return sound(draw_figure("kick", inputs, say=say, **more))


@settings(deadline=None, max_examples=40)
@given(st.floats(4, 14), st.sampled_from((15, 22.5, 30)), st.booleans())
def test_any_kick_behind_a_ninety_is_sound(sound, in_english, rise, bend, solved):
    sheet_of(sound, in_english, rise, bend, solved=solved, wrong={"corner": 5.0})


def test_the_length_from_the_back_is_seen_only_when_solved(sound, in_english):
    told = sheet_of(sound, in_english, 4, 30)
    asked = sheet_of(sound, in_english, 4, 30, solved=False)

    assert "8-3/8 in from the back" in told.texts
    assert not any("from the back" in text for text in asked.texts)


def test_the_back_of_the_ninety_lies_half_a_diameter_beyond_the_middle():
    result = kick(4, 30, measured_from=Datum.BACK)

    assert result.corner - result.travel == pytest.approx(0.706 / 2)
    assert kick(4, 30).corner == kick(4, 30).travel
