import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trainer.figures.catalogue import draw_figure

pieces = st.lists(st.integers(6, 480).map(lambda quarters: quarters / 4), min_size=1, max_size=12).map(tuple)


@settings(deadline=None, max_examples=60)
@given(pieces, st.sampled_from([0.0, 0.0625]), st.booleans(), st.booleans())
def test_any_plan_is_sound(sound, in_english, wanted, kerf, wrong, solved):
    inputs = {"pieces": wanted, "kerf": kerf}

    sound(draw_figure("cut_plan", inputs, say=in_english, wrong={"sticks": 40.0} if wrong else {}, solved=solved))


def test_cuts_lie_behind_each_piece_with_its_kerf(sound, in_english):
    sheet = sound(draw_figure("cut_plan", {"pieces": (50.0, 40.0), "kerf": 0.5}, say=in_english))

    (first, x1, _), (second, x2, width) = sheet.at("cut")
    bar = sheet.all("rect", "fig-tube")[0]
    scale = float(bar.get("width")) / 120
    assert (first, second) == (50, 90.5)
    assert x1 == pytest.approx(float(bar.get("x")) + 50 * scale, abs=0.02)
    assert x2 == pytest.approx(float(bar.get("x")) + 90.5 * scale, abs=0.02)
    assert width == pytest.approx(max(1.2, 0.5 * scale), abs=0.01)
    assert "left 29 in" in sheet.texts


def test_a_piece_that_ends_with_the_stick_has_no_cut(sound, in_english):
    sheet = sound(draw_figure("cut_plan", {"pieces": (60.0, 60.0)}, say=in_english))

    assert [position for position, _, _ in sheet.at("cut")] == [60]
    assert not sheet.all("path", "fig-left")


def test_equal_sticks_are_drawn_once(sound, in_english):
    sheet = sound(draw_figure("cut_plan", {"pieces": (70.0,) * 3}, say=in_english))

    assert "3 × stick 120 in" in sheet.texts
    assert len(sheet.all("rect", "fig-tube")) == 1


def test_short_pieces_share_a_dimension(sound, in_english):
    sheet = sound(draw_figure("cut_plan", {"pieces": (6.0,) * 5 + (9.0,)}, say=in_english))

    assert "5 × 6 in" in sheet.texts
    assert "9 in" in sheet.texts


def test_an_offcut_is_named_so(sound, in_english):
    sheet = sound(draw_figure("cut_plan", {"pieces": (40.0,), "offcuts": (51.5,)}, say=in_english))

    assert "offcut 51-1/2 in" in sheet.texts


def test_a_learners_number_stands_beside_the_plans(sound, in_english):
    sheet = sound(draw_figure("cut_plan", {"pieces": (70.0,) * 3}, say=in_english, wrong={"sticks": 2.0}))

    assert "Yours: 2 sticks. This plan: 3." in sheet.texts


def test_before_the_answer_only_the_pieces_are_shown(sound, in_english):
    sheet = sound(draw_figure("cut_plan", {"pieces": (70.0, 31.0, 70.0)}, say=in_english, solved=False))

    assert sheet.texts == ["2 × 70 in", "1 × 31 in"]
