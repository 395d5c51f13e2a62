import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trainer.figures.catalogue import draw_figure

GIVEN = {"distance": 40.0, "stands_out": 1.125, "goes_in": 0.75}
widths = st.one_of(st.none(), st.sampled_from([2.0, 4.0, 4.6875, 14.25, 20.0]))


@settings(deadline=None, max_examples=60)
@given(
    st.integers(30 * 16, 600 * 16).map(lambda count: count / 16),
    st.sampled_from([(1.125, 0.75), (1.5, 1.0), (0.5, 0.5), (2.0, 0.0)]),
    widths,
    widths,
    st.booleans(),
    st.one_of(st.none(), st.floats(0.5, 700)),
)
def test_any_run_is_sound(sound, in_english, distance, end, first, second, solved, yours):
    inputs = {"distance": distance, "stands_out": end[0], "goes_in": end[1]}
    if first and second:
        inputs |= {"measured": "centres", "first_box": first, "second_box": second}
    wrong = {} if yours is None else {"tube": yours}

    sound(draw_figure("box_run", inputs, say=in_english, wrong=wrong, solved=solved))


def test_the_length_is_a_question_until_it_is_solved(sound, in_english):
    asked = sound(draw_figure("box_run", GIVEN, say=in_english, solved=False))

    assert "tube ?" in asked.texts
    assert "39-1/4 in" not in asked.svg
    assert "tube 39-1/4 in" in sound(draw_figure("box_run", GIVEN, say=in_english)).texts


def test_the_tube_ends_where_it_goes_into_the_connectors_to_scale(sound, in_english):
    sheet = sound(draw_figure("box_run", GIVEN, say=in_english))

    left, right = ((float(box.get("x")), float(box.get("width"))) for box in sheet.all("rect", "fig-box"))
    (tube,) = sheet.all("rect", "fig-tube")
    scale = left[1] / 4
    assert float(tube.get("x")) == pytest.approx(left[0] + left[1] + 0.375 * scale, abs=0.02)
    assert float(tube.get("x")) + float(tube.get("width")) == pytest.approx(right[0] - 0.375 * scale, abs=0.02)


def test_centres_and_widths_are_dimensioned_where_they_were_measured(sound, in_english):
    inputs = {**GIVEN, "measured": "centres", "first_box": 4.0, "second_box": 4.6875}
    sheet = sound(draw_figure("box_run", inputs, say=in_english))

    assert {"40 in", "4 in", "4-11/16 in", "tube 34-15/16 in"} <= set(sheet.texts)


def test_a_long_run_shows_its_last_piece_behind_a_coupling(sound, in_english):
    sheet = sound(draw_figure("box_run", {**GIVEN, "distance": 171.5, "coupling_gap": 0.0625}, say=in_english))

    assert {"1 coupling", "last piece 50-11/16 in"} <= set(sheet.texts)


def test_a_piece_too_long_is_dashed_beyond_the_stop(sound, in_english):
    sheet = sound(draw_figure("box_run", GIVEN, say=in_english, wrong={"tube": 40.0}))

    ((more, x, _),) = sheet.at("yours")
    (tube,) = sheet.all("rect", "fig-tube")
    assert more == 0.75
    assert x > float(tube.get("x")) + float(tube.get("width"))
