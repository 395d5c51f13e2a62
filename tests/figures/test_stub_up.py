import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trainer.figures.catalogue import draw_figure


def sheet_of(sound, say, inputs, **more):
    return sound(draw_figure("stub_up", inputs, say=say, **more))


@settings(deadline=None, max_examples=60)
@given(st.integers(26, 140), st.sampled_from(["1/2", "3/4", "1"]), st.none() | st.floats(-5, 90))
def test_any_stub_with_any_wrong_mark_is_sound(sound, in_english, halves, size, yours):
    wrong = {} if yours is None else {"mark": yours}

    sheet = sheet_of(sound, in_english, {"stub_height": halves / 2, "trade_size": size}, wrong=wrong)

    assert any("yours" in text for text in sheet.texts) == (yours is not None)


def test_the_mark_lies_where_the_core_says_on_the_tape(sound, in_english):
    sheet = sheet_of(sound, in_english, {"stub_height": 12, "trade_size": "1/2"})

    ((position, x, _),) = sheet.at("mark")
    assert position == 7
    numbers = {text: (box.left + box.right) / 2 for box, text in sheet.boxes if re.fullmatch(r"\d+", text)}
    inch = (numbers["14"] - numbers["2"]) / 12
    assert x == pytest.approx(numbers["14"] - 7 * inch, abs=0.1)


def test_the_stub_is_as_high_as_asked_from_the_back_of_the_bend(sound, in_english):
    sheet = sheet_of(sound, in_english, {"stub_height": 12, "trade_size": "1/2"})

    heights = [y for _, y in sheet.points("fig-tube")]
    mark = max(sheet.all("line", "fig-mark"), key=lambda line: float(line.get("y1")))
    # From the stub's end to the pencil mark are 7 in, to the back of the bend 12.
    top = min(heights)
    assert (float(mark.get("y1")) - top) / (max(heights) - top) == pytest.approx(7 / 12, abs=0.01)


def test_a_mark_without_the_take_up_ends_too_high(sound, in_english):
    sheet = sheet_of(sound, in_english, {"stub_height": 12, "trade_size": "1/2"}, wrong={"mark": 12.0})

    tops = [y for _, y in sheet.points("fig-wrong")]
    tube = [y for _, y in sheet.points("fig-tube")]
    scale = (max(tube) - min(tube)) / 12
    assert (min(tube) - min(tops)) / scale == pytest.approx(5, abs=0.05)
    assert sheet.at("yours")[0][0] == 12


def test_a_stub_that_ends_too_low_is_a_dashed_line_across(sound, in_english):
    sheet = sheet_of(sound, in_english, {"stub_height": 12, "trade_size": "1/2"}, wrong={"mark": 4.0})

    assert not sheet.all("path", "fig-wrong")
    level = [line for line in sheet.all("line", "fig-wrong") if line.get("y1") == line.get("y2")]
    assert len(level) == 1
    assert float(level[0].get("y1")) > min(y for _, y in sheet.points("fig-tube"))


@pytest.mark.parametrize("yours", [-2.0, 300.0])
def test_a_mark_off_the_tube_is_said_to_be(sound, in_english, yours):
    sheet = sheet_of(sound, in_english, {"stub_height": 12, "trade_size": "1/2"}, wrong={"mark": yours})

    assert "off this drawing" in sheet.texts


def test_the_take_up_in_hand_goes_before_the_usual_one(sound, in_english):
    sheet = sheet_of(sound, in_english, {"stub_height": 12, "take_up": 5.25})

    assert "take-up 5-1/4 in" in sheet.texts
    assert sheet.at("mark")[0][0] == 6.75


def test_before_the_answer_neither_mark_nor_take_up_is_given_away(sound, in_english):
    sheet = sheet_of(sound, in_english, {"stub_height": 12, "trade_size": "1/2"}, solved=False, wrong={"mark": 12.0})

    assert sorted(sheet.texts) == ["12 in", "90°", "yours"]
    assert not sheet.at("mark")
