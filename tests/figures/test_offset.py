import math

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from trainer.calc.catalogue import CATALOGUE
from trainer.figures.catalogue import draw_figure

OFFSET = CATALOGUE["offset"]
depths = st.integers(4, 48).map(lambda quarters: quarters / 4)
angles = st.sampled_from([10.0, 15.0, 22.5, 30.0, 45.0, 60.0])
hooks = st.sampled_from(["far-end", "measured-end"])
jobs = st.fixed_dictionaries({"depth": depths, "angle": angles, "distance": st.floats(80, 140), "hook": hooks})


def sheet_of(sound, say, inputs, **more):
    return sound(draw_figure("offset", inputs, say=say, **more))


@settings(deadline=None, max_examples=60)
@given(jobs, st.sampled_from(["spacing", "shrink", "first_mark", "second_mark"]), st.floats(-10, 300))
@example({"depth": 5.25, "angle": 10.0, "distance": 80.0, "hook": "far-end"}, "second_mark", 26.0)
def test_any_offset_with_any_wrong_value_is_sound(sound, in_english, inputs, output, value):
    sheet = sheet_of(sound, in_english, inputs, wrong={output: value})

    assert any("yours" in text for text in sheet.texts)


@settings(deadline=None, max_examples=30)
@given(depths, angles)
def test_an_offset_without_a_distance_is_sound(sound, in_english, depth, angle):
    sheet = sheet_of(sound, in_english, {"depth": depth, "angle": angle})

    assert "measured from this end" not in sheet.texts


@settings(deadline=None, max_examples=40)
@given(jobs)
def test_marks_lie_where_the_core_says_to_the_scale_of_the_tape(sound, in_english, inputs):
    result = OFFSET.solve(inputs)

    marks = sorted(sheet_of(sound, in_english, inputs).at("mark"))

    assert [position for position, _, _ in marks] == pytest.approx([result.second_mark, result.first_mark], rel=1e-4)
    (_, near, _), (_, far, _) = marks
    assert far - near > 20


def test_the_tape_has_the_scale_of_the_marks(sound, in_english):
    sheet = sheet_of(sound, in_english, {"depth": 6, "angle": 30, "distance": 50})

    numbers = {int(text): (box.left + box.right) / 2 for box, text in sheet.boxes if text.isdigit()}
    (near, near_x, _), (far, far_x, _) = sorted(sheet.at("mark"))
    inch = (numbers[54] - numbers[42]) / 12
    assert inch == pytest.approx((far_x - near_x) / (far - near), abs=0.01)
    assert far_x == pytest.approx(numbers[54] - (54 - far) * inch, abs=0.1)


def test_the_example_of_the_trade_is_drawn_to_scale(sound, in_english):
    sheet = sheet_of(sound, in_english, {"depth": 6, "angle": 30, "distance": 50})

    (near, near_x, _), (far, far_x, _) = sorted(sheet.at("mark"))
    assert far - near == pytest.approx(12)
    scale = (far_x - near_x) / 12
    ground, top = _obstacle(sheet)
    assert ground - top == pytest.approx(6 * scale, abs=0.1)
    assert _obstacle_face(sheet) == pytest.approx(far_x - (far - 50) * scale, abs=0.1)


def _obstacle(sheet):
    heights = [y for _, y in sheet.points("fig-obstacle")]
    return max(heights), min(heights)


def _obstacle_face(sheet):
    return min(x for x, _ in sheet.points("fig-obstacle"))


def _tube_ends(sheet):
    """Upper edge of the bent tube's two legs."""
    points = sheet.points("fig-tube")
    return points[0], points[len(points) // 2 - 1]


def test_the_bent_tube_clears_the_obstacle_with_the_hook_toward_it(sound, in_english):
    sheet = sheet_of(sound, in_english, {"depth": 6, "angle": 30, "distance": 50})
    ground, top = _obstacle(sheet)

    (_, low), (_, high) = _tube_ends(sheet)

    # The shoe's arcs gain a little on the sharp corners: about a sixteenth at six inches.
    rise = (low - high) / (ground - top) * 6
    assert 6 <= rise < 6.15


def test_a_wrong_mark_is_dashed_named_and_drawn_where_it_was_given(sound, in_english):
    inputs = {"depth": 6, "angle": 30, "distance": 50}

    sheet = sheet_of(sound, in_english, inputs, wrong={"second_mark": 43.0})

    (near, near_x, _), (far, far_x, _) = sorted(sheet.at("mark"))
    ((yours, yours_x, _),) = sheet.at("yours")
    assert yours == 43
    assert (yours_x - near_x) / (far_x - near_x) == pytest.approx((43 - near) / (far - near), abs=1e-3)
    assert "yours 43 in" in sheet.texts
    assert "yours" in sheet.texts
    assert len(sheet.all("path", "fig-wrong")) == 2


def test_a_wrong_spacing_draws_the_tube_that_it_would_give(sound, in_english):
    inputs = {"depth": 6, "angle": 30, "distance": 50}

    sheet = sheet_of(sound, in_english, inputs, wrong={"spacing_handbook": 8.0})

    heights = [y for _, y in sheet.points("fig-wrong")]
    scale = _scale(sheet)
    # Spacing 8 at 30 degrees rises about 4 inches.
    assert (heights[0] - heights[-1]) / scale == pytest.approx(8 * math.sin(math.radians(30)), abs=0.1)
    assert "yours 8 in" in sheet.texts


def _scale(sheet):
    (near, near_x, _), (far, far_x, _) = sorted(sheet.at("mark"))
    return (far_x - near_x) / (far - near)


def test_a_wrong_mark_far_off_is_shown_at_the_edge_and_said_to_be(sound, in_english):
    sheet = sheet_of(sound, in_english, {"depth": 6, "angle": 30, "distance": 50}, wrong={"first_mark": 600.0})

    assert "off this drawing" in sheet.texts
    assert not sheet.all("path", "fig-wrong")


def test_a_wrong_shrink_is_measured_from_the_obstacle(sound, in_english):
    sheet = sheet_of(sound, in_english, {"depth": 6, "angle": 30, "distance": 50}, wrong={"shrink": 3.5})

    assert "yours 3-1/2 in" in sheet.texts
    assert len(sheet.at("yours")) == 2


def test_marks_without_room_for_two_bends_are_said_to_be(sound, in_english):
    sheet = sheet_of(sound, in_english, {"depth": 6, "angle": 30, "distance": 50}, wrong={"spacing": 1.0})

    assert "Yours leaves no room for two bends." in sheet.texts
    assert not sheet.all("path", "fig-wrong")


def test_an_answer_that_moves_no_mark_is_not_drawn(in_english):
    plain = draw_figure("offset", {"depth": 6, "angle": 30}, say=in_english)

    assert draw_figure("offset", {"depth": 6, "angle": 30}, say=in_english, wrong={"cost": 3.0}) == plain


def test_before_the_answer_no_mark_is_given_away(sound, in_english):
    sheet = sheet_of(sound, in_english, {"depth": 6, "angle": 30, "distance": 50}, solved=False, wrong={"spacing": 8.0})

    assert sorted(sheet.texts) == ["30°", "30°", "50 in", "6 in", "yours"]
    assert not sheet.at("mark")
    assert not sheet.all("line", "fig-mark")
    assert "12 in" not in sheet.svg


def test_bends_that_this_shoe_cannot_make_are_drawn_tighter_about_the_same_middle(sound, in_english):
    inputs = {"depth": 2, "angle": 45, "distance": 40}
    assert OFFSET.solve(inputs).spacing_arc is None

    (_, low), (_, high) = _tube_ends(sheet_of(sound, in_english, inputs))

    assert low > high


def test_the_hook_is_drawn_toward_the_end_that_it_points_at(sound, in_english):
    far = sheet_of(sound, in_english, {"depth": 6, "angle": 30, "distance": 50, "hook": "far-end"})
    near = sheet_of(sound, in_english, {"depth": 6, "angle": 30, "distance": 50, "hook": "measured-end"})

    assert [text for text in far.texts if "bend " in text] == ["bend 1", "bend 2"]
    assert [text for text in near.texts if "bend " in text] == ["bend 2", "bend 1"]
    assert _hook_words(far) > _mark_xs(far)
    assert _hook_words(near) < _mark_xs(near)


def _hook_words(sheet):
    return sorted(box.left for box, text in sheet.boxes if text == "hook")


def _mark_xs(sheet):
    return sorted(x for _, x, _ in sheet.at("mark"))
