import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trainer.calc.parallel_offset import parallel_offset
from trainer.figures.catalogue import draw_figure

ROLLING = {"rise": 6, "roll": 8, "angle": 30, "distance": 40}
RACK = {"centre_spacing": 2, "angle": 30}


@settings(deadline=None, max_examples=40)
@given(
    st.tuples(st.integers(1, 16), st.integers(1, 16)),
    st.sampled_from([22.5, 30, 45]),
    st.none() | st.integers(60, 120),
    st.none() | st.tuples(st.sampled_from(["spacing", "first_mark_handbook", "true_offset"]), st.floats(-5, 140)),
    st.booleans(),
)
def test_any_rolling_offset_is_sound(sound, in_english, across, angle, distance, yours, solved):
    inputs = {"rise": across[0], "roll": across[1], "angle": angle, "distance": distance}
    wrong = dict([yours]) if yours else {}

    sound(draw_figure("rolling_offset", inputs, say=in_english, wrong=wrong, solved=solved))


def test_rise_is_seen_from_the_side_and_roll_from_above(sound, in_english):
    sheet = sound(draw_figure("rolling_offset", ROLLING, say=in_english, solved=False))
    tubes = sheet.all("path", "fig-tube")

    assert len(tubes) == 2
    assert {"From the side", "From above", "6 in", "8 in", "40 in"} <= set(sheet.texts)
    assert not sheet.at("mark")
    assert "10 in" not in sheet.texts


@settings(deadline=None, max_examples=30)
@given(
    st.integers(6, 16),
    st.sampled_from([15, 22.5, 30, 45]),
    st.integers(1, 3),
    st.sampled_from(["toward-turn", "from-turn"]),
    st.none() | st.floats(-20, 60),
)
def test_any_rack_is_sound(sound, in_english, quarters, angle, neighbour, side, yours):
    inputs = {"centre_spacing": quarters / 4, "angle": angle, "neighbour": neighbour, "side": side}
    wrong = {} if yours is None else {"neighbour_shift": yours}

    sound(draw_figure("rack", inputs, say=in_english, wrong=wrong))


@pytest.mark.parametrize("side", ["toward-turn", "from-turn"])
def test_the_marks_of_the_neighbour_shift_as_the_core_says(sound, in_english, side):
    sheet = sound(draw_figure("rack", {**RACK, "side": side}, say=in_english))
    shift = parallel_offset(2, 30).mark_shift

    marks = sorted(position for position, _, _ in sheet.at("mark"))
    lines = sheet.all("line", "fig-mark")
    first = {float(line.get("y1")) for line in lines}
    assert len(first) == 2
    assert marks[1] - marks[0] == pytest.approx(shift, abs=1e-3)
    assert marks[3] - marks[2] == pytest.approx(shift, abs=1e-3)
    # The tube on the side that the rack turns toward, here the upper one, has its marks nearer to the start.
    above = [position for position, x, _ in sheet.at("mark") for line in lines
             if float(line.get("x1")) == x and float(line.get("y1")) == min(first)]  # fmt: skip
    below = [position for position, x, _ in sheet.at("mark") for line in lines
             if float(line.get("x1")) == x and float(line.get("y1")) == max(first)]  # fmt: skip
    assert max(above) < max(below)


def test_tubes_that_jump_away_side_by_side_get_the_same_marks(sound, in_english):
    sheet = sound(draw_figure("rack", {**RACK, "plane": "away-from-rack"}, say=in_english))

    assert "The same marks on every tube." in sheet.texts
    assert len({position for position, _, _ in sheet.at("mark")}) == 2
