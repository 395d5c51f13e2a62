import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trainer.calc.three_point_saddle import three_point_saddle
from trainer.figures.catalogue import draw_figure

THREE = {"height": 4, "centre_angle": 45, "distance": 40}
FOUR = {"height": 4, "width": 12, "angle": 30, "clearance": 1, "distance": 40}


@settings(deadline=None, max_examples=40)
@given(
    st.integers(1, 16),
    st.sampled_from([45, 60]),
    st.none() | st.integers(32, 90),
    st.none() | st.tuples(st.sampled_from(["outer_spacing", "centre_mark", "shrink_to_centre"]), st.floats(0, 120)),
)
def test_any_saddle_with_any_wrong_value_is_sound(sound, in_english, halves, angle, distance, yours):
    wrong = dict([yours]) if yours else {}
    inputs = {"height": halves / 2, "centre_angle": angle, "distance": distance}

    sheet = sound(draw_figure("saddle", inputs, say=in_english, wrong=wrong))

    assert any("yours" in text for text in sheet.texts) == bool(wrong)


@settings(deadline=None, max_examples=30)
@given(
    st.integers(1, 16),
    st.integers(8, 24),
    st.sampled_from([22.5, 30, 45]),
    st.none() | st.tuples(st.sampled_from(["spacing", "inner_spacing", "near_inner_mark"]), st.floats(0, 120)),
)
def test_any_wide_saddle_is_sound(sound, in_english, halves, width, angle, yours):
    inputs = {**FOUR, "height": halves / 2, "width": width, "angle": angle, "distance": 50}

    sound(draw_figure("wide_saddle", inputs, say=in_english, wrong=dict([yours]) if yours else {}))


def test_the_three_marks_stand_where_the_core_says(sound, in_english):
    result = three_point_saddle(4, 45, 40)
    sheet = sound(draw_figure("saddle", THREE, say=in_english))

    found = sorted(position for position, _, _ in sheet.at("mark"))

    assert found == pytest.approx([result.near_mark, result.centre_mark, result.far_mark], abs=1e-3)


def test_the_tube_passes_over_the_obstacle_that_it_has_to_clear(sound, in_english):
    sheet = sound(draw_figure("saddle", THREE, say=in_english))
    obstacle = sheet.all("circle", "fig-obstacle")[0]
    roof = float(obstacle.get("cy")) - float(obstacle.get("r"))

    highest = min(y for _, y in sheet.points("fig-tube"))

    # The tube's upper side lies one diameter, 0.706 in, above the roof that is drawn 4 in high.
    inch = 2 * float(obstacle.get("r")) / 4
    assert (roof - highest) / inch == pytest.approx(0.706, abs=0.15)


@pytest.mark.parametrize(("name", "inputs"), [("saddle", THREE), ("wide_saddle", FOUR)])
def test_before_the_answer_only_what_is_given_is_shown(sound, in_english, name, inputs):
    sheet = sound(draw_figure(name, inputs, say=in_english, solved=False))

    assert not sheet.at("mark")
    assert "40 in" in sheet.texts
    assert ("4 in" in sheet.texts) == (name == "wide_saddle")
    assert not [text for text in sheet.texts if "bend" in text or "shrink" in text]


def test_bends_that_run_into_each_other_are_said_to(sound, in_english):
    sheet = sound(draw_figure("saddle", {"height": 0.5, "centre_angle": 60, "distance": 40}, say=in_english))

    assert any("run into each other" in text for text in sheet.texts)
