import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trainer.figures.catalogue import draw_figure

bends = st.lists(st.sampled_from([5.0, 10.0, 22.5, 30.0, 45.0, 60.0, 90.0, 180.0]), min_size=1, max_size=16).map(tuple)


@settings(deadline=None, max_examples=60)
@given(bends, st.none() | st.floats(-20, 2000), st.booleans())
def test_any_run_is_sound(sound, in_english, angles, yours, solved):
    wrong = {} if yours is None else {"total": yours}

    sound(draw_figure("bend_total", {"angles": angles}, say=in_english, wrong=wrong, solved=solved))


@settings(deadline=None, max_examples=30)
@given(bends)
def test_the_bar_adds_up_to_the_cores_sum(sound, in_english, angles):
    sheet = sound(draw_figure("bend_total", {"angles": angles}, say=in_english))

    shares = sheet.at("sum")
    assert shares[-1][0] == pytest.approx(sum(angles))
    scales = {round(width / angle, 3) for (_, _, width), angle in zip(shares, angles, strict=True)}
    assert max(scales) - min(scales) < 0.01


def test_what_lies_beyond_the_limit_is_hatched(sound, in_english):
    within = sound(draw_figure("bend_total", {"angles": (90.0, 90.0)}, say=in_english))
    beyond = sound(draw_figure("bend_total", {"angles": (90.0,) * 5}, say=in_english))

    assert not within.all("path", "fig-over")
    assert beyond.all("path", "fig-over")
    assert "limit 360°" in beyond.texts
    assert "sum 450°" in beyond.texts


def test_a_place_with_a_lower_limit_shows_its_own(sound, in_english):
    sheet = sound(draw_figure("bend_total", {"angles": (90.0, 90.0), "limit": 270.0}, say=in_english))

    assert "limit 270°" in sheet.texts


def test_every_bend_is_numbered_with_its_angle(sound, in_english):
    sheet = sound(draw_figure("bend_total", {"angles": (90.0, 30.0, 22.5)}, say=in_english))

    assert {"1: 90°", "2: 30°", "3: 22.5°"} <= set(sheet.texts)


def test_many_bends_are_numbered_only(sound, in_english):
    sheet = sound(draw_figure("bend_total", {"angles": (22.5,) * 12}, say=in_english))

    assert "12" in sheet.texts
    assert not any(":" in text for text in sheet.texts)


def test_a_wrong_sum_crosses_the_bar_where_it_lies(sound, in_english):
    sheet = sound(draw_figure("bend_total", {"angles": (90.0, 90.0)}, say=in_english, wrong={"total": 270.0}))

    ((yours, x, _),) = sheet.at("yours")
    (_, start, width), _ = sheet.at("sum")
    assert yours == 270
    assert x == pytest.approx(start + 3 * width, abs=0.1)
    assert "yours 270°" in sheet.texts


def test_a_wild_sum_stands_at_the_edge(sound, in_english):
    sheet = sound(draw_figure("bend_total", {"angles": (90.0,)}, say=in_english, wrong={"total": 5000.0}))

    assert sheet.at("yours")[0][1] == 348


def test_before_the_answer_there_is_no_sum(sound, in_english):
    sheet = sound(draw_figure("bend_total", {"angles": (90.0, 30.0)}, say=in_english, solved=False))

    assert not sheet.at("sum")
    assert "120" not in sheet.svg.split("</desc>")[0]
