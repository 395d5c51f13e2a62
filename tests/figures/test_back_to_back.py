import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trainer.figures.catalogue import draw_figure

JOB = {"distance": 40, "stub": 12}


@settings(deadline=None, max_examples=40)
@given(
    st.integers(40, 180),
    st.none() | st.integers(24, 60),
    st.sampled_from(["1/2", "3/4", "1"]),
    st.sampled_from(["by-back-mark", "by-take-up", "on-straight-stick"]),
    st.none() | st.floats(-10, 120),
)
def test_any_piece_with_any_wrong_mark_is_sound(sound, in_english, halves, stub, size, way, yours):
    inputs = {"distance": halves / 2 + 10, "stub": stub and stub / 2, "shoe": size, "way": way}
    wrong = {} if yours is None else {"by_back_mark": yours}

    sheet = sound(draw_figure("back_to_back", inputs, say=in_english, wrong=wrong))

    assert any("yours" in text for text in sheet.texts) == bool(wrong)


@pytest.mark.parametrize(("way", "position", "hook_way"), [("by-back-mark", 40, 1), ("by-take-up", 35, -1)])
def test_the_second_mark_stands_where_the_core_says_with_the_hook_its_way(sound, in_english, way, position, hook_way):
    sheet = sound(draw_figure("back_to_back", {**JOB, "way": way}, say=in_english))

    ((found, x, _),) = sheet.at("mark")
    arrow = next(line for line in sheet.all("line", "fig-mark") if line.get("y1") == line.get("y2"))
    assert found == position
    assert (float(arrow.get("x2")) - x) * hook_way > 0


def test_the_finished_piece_is_as_long_over_its_backs_as_asked(sound, in_english):
    sheet = sound(draw_figure("back_to_back", JOB, say=in_english, solved=False))

    outline = sheet.points("fig-tube")
    wide = max(x for x, _ in outline) - min(x for x, _ in outline)
    tall = max(y for _, y in outline) - min(y for _, y in outline)
    assert wide / tall == pytest.approx(40 / 12, rel=0.01)
    assert sorted(sheet.texts) == ["12 in", "40 in back to back"]
