import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trainer.calc.stretches import Stretch
from trainer.figures.catalogue import draw_figure


def sheet_of(sound, say, run, straps, **more):
    inputs = {
        "run_length": run,
        "straps": straps,
        **{name: more.pop(name) for name in ("terminations", "bends") if name in more},
    }
    return sound(draw_figure("strap_layout", inputs, say=say, **more))


@settings(deadline=None, max_examples=60)
@given(st.lists(st.floats(0, 400), min_size=0, max_size=7), st.booleans())
def test_any_layout_is_sound(sound, in_english, straps, solved):
    sheet_of(sound, in_english, 400.0, tuple(straps), solved=solved)


def test_a_strap_sits_where_it_is_to_the_scale_of_the_run(sound, in_english):
    sheet = sheet_of(sound, in_english, 240.0, (24.0, 120.0, 210.0))
    tube = sheet.all("rect", "fig-tube")[0]
    scale = float(tube.get("width")) / 240

    for position, x, width in sheet.at("strap"):
        assert x + width / 2 == pytest.approx(float(tube.get("x")) + position * scale, abs=0.1)
    assert {"2 ft", "10 ft", "17 ft 6 in"} <= set(sheet.texts)


def test_what_is_too_long_is_told_only_when_solved(sound, in_english):
    asked = sheet_of(sound, in_english, 240.0, (40.0, 165.0, 200.0), solved=False)
    told = sheet_of(sound, in_english, 240.0, (40.0, 165.0, 200.0))

    assert not asked.all("line", "fig-wrong")
    assert told.all("line", "fig-wrong")
    assert "10 ft 5 in" in told.texts
    assert "10 ft 5 in" not in asked.texts


def test_where_nothing_is_too_long_the_widest_gap_is_written(sound, in_english):
    sheet = sheet_of(sound, in_english, 240.0, (30.0, 130.0, 215.0))

    assert "8 ft 4 in" in sheet.texts
    assert "Every strap is within reach." in sheet.texts


def test_boxes_and_bends_between_are_drawn(sound, in_english):
    sheet = sheet_of(
        sound, in_english, 240.0, (30.0, 110.0, 130.0, 215.0), terminations=(120.0,), bends=(Stretch(60, 67),)
    )

    assert len(sheet.all("rect", "fig-box")) == 3
    assert sheet.all("rect", "fig-bent-part")
    assert "10 ft" in sheet.texts
