import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trainer.figures.catalogue import draw_figure


@settings(deadline=None, max_examples=40)
@given(
    st.integers(4, 24),
    st.sampled_from([10, 15, 22.5, 30]) | st.none(),
    st.none() | st.floats(-10, 200),
    st.booleans(),
)
def test_any_kick_with_any_wrong_mark_is_sound(sound, in_english, halves, angle, yours, solved):
    given_by = {"angle": angle} if angle else {"length": 2 * halves}
    wrong = {} if yours is None else {"mark": yours}

    sheet = sound(draw_figure("kick", {"rise": halves / 2, **given_by}, say=in_english, wrong=wrong, solved=solved))

    assert any("yours" in text for text in sheet.texts) == (bool(wrong) and solved)


def test_the_end_is_lifted_as_far_as_asked(sound, in_english):
    sheet = sound(draw_figure("kick", {"rise": 6, "angle": 30}, say=in_english, solved=False))

    axis = float(sheet.all("line", "fig-axis")[0].get("y1"))
    outline = sheet.points("fig-tube")
    # The lifted end face: its two corners are the leftmost points of either side.
    (x0, y0), (x1, y1) = outline[0], outline[-1]
    thickness = math.hypot(x1 - x0, y1 - y0)
    inch = thickness / 0.706
    assert (axis - (y0 + y1) / 2) / inch == pytest.approx(6, abs=0.1)


def test_an_angle_that_is_asked_for_is_not_given_away(sound, in_english):
    asked = sound(draw_figure("kick", {"rise": 5, "length": 18}, say=in_english, solved=False))
    told = sound(draw_figure("kick", {"rise": 5, "length": 18}, say=in_english))

    assert sorted(asked.texts) == ["18 in along the tube", "5 in"]
    assert "16.1°" in told.texts
    assert told.at("mark")[0][0] == pytest.approx(18)
