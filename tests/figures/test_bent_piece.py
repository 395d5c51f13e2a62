import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trainer.figures.bent_piece_path import bent_piece
from trainer.figures.catalogue import draw_figure

legs = st.lists(st.integers(24, 480).map(lambda quarters: quarters / 4), min_size=1, max_size=5).map(tuple)


@settings(deadline=None, max_examples=80)
@given(
    legs,
    st.sampled_from(["back", "centre", "inside"]),
    st.sampled_from([0.0, 3.0, 8.0]),
    st.integers(0, 2),
    st.booleans(),
    st.one_of(st.none(), st.floats(1, 600)),
)
def test_any_piece_is_sound(sound, in_english, lengths, measured, depth, ends, solved, yours):
    inputs = {"legs": lengths, "gain": 2.625, "measured": measured, "outside_diameter": 0.706}
    inputs |= {
        "offset_depth": depth,
        "shrink_per_inch": 0.25,
        "fitted_ends": ends,
        "stands_out": 1.125,
        "goes_in": 0.75,
    }
    wrong = {} if yours is None else {"tube": yours}

    svg = draw_figure("bent_piece", inputs, say=in_english, wrong=wrong, solved=solved)
    if svg or bent_piece(inputs):
        sound(svg)


def test_legs_and_the_length_to_cut_are_written(sound, in_english):
    inputs = {"legs": "14 in, 40 in, 9-1/2 in", "gain": "2-5/8 in"}
    asked = sound(draw_figure("bent_piece", inputs, say=in_english, solved=False))

    assert {"14 in", "40 in", "9-1/2 in", "cut ?"} <= set(asked.texts)
    assert "58-1/4 in" not in asked.svg
    assert "cut 58-1/4 in" in sound(draw_figure("bent_piece", inputs, say=in_english)).texts


@pytest.mark.parametrize(("depth", "ends"), [(0.0, 0), (0.0, 2)])
def test_what_is_drawn_is_as_long_as_what_is_cut(depth, ends):
    inputs = {"legs": (14.0, 40.0, 9.5), "gain": 2.625, "offset_depth": depth}
    inputs |= {"fitted_ends": ends, "stands_out": 1.125, "goes_in": 0.75}

    assert bent_piece(inputs).tube.length == pytest.approx(58.25 - ends * 0.375)


def test_an_offset_jogs_the_longest_leg_by_its_depth():
    piece = bent_piece({"legs": (14.0, 60.0), "gain": 2.625, "offset_depth": 4.0, "shrink_per_inch": 0.25})

    first, second, last = piece.tube.legs[1], piece.tube.legs[2], piece.tube.legs[3]
    assert last.start.x == pytest.approx(first.start.x - 4)
    assert second.along.angle_to(first.along) == pytest.approx(30)


def test_legs_that_leave_the_arcs_no_room_are_not_drawn(in_english):
    assert draw_figure("bent_piece", {"legs": (4.0, 4.0, 4.0), "gain": 2.625}, say=in_english) == ""


def test_a_learner_s_length_is_drawn_dashed(sound, in_english):
    sheet = sound(
        draw_figure("bent_piece", {"legs": "14 in, 40 in", "gain": "2-5/8 in"}, say=in_english, wrong={"tube": 54})
    )

    assert sheet.at("yours")[0][0] == 54
    assert "yours 54 in" in sheet.texts
