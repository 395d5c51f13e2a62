import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trainer.calc.catalogue import CATALOGUE
from trainer.figures.catalogue import draw_figure


def sheet_of(sound, say, feet, **more):
    return sound(draw_figure("straps", {"run_length": feet * 12.0}, say=say, **more))


@settings(deadline=None, max_examples=60)
@given(st.integers(1, 160), st.none() | st.integers(0, 60))
def test_any_run_with_any_wrong_count_is_sound(sound, in_english, feet, yours):
    wrong = {} if yours is None else {"straps": float(yours)}

    sheet = sheet_of(sound, in_english, feet, wrong=wrong)

    assert (f"yours: {yours}" in sheet.texts) == (yours is not None)


@settings(deadline=None, max_examples=30)
@given(st.integers(4, 160))
def test_every_strap_sits_where_the_core_says_to_the_scale_of_the_run(sound, in_english, feet):
    run = feet * 12.0
    positions = CATALOGUE["strap_count"].solve({"run_length": run}).positions
    sheet = sheet_of(sound, in_english, feet)
    tube = sheet.all("rect", "fig-tube")[0]

    straps = sheet.at("strap")

    scale = float(tube.get("width")) / run
    assert [position for position, _, _ in straps] == pytest.approx(list(positions), rel=1e-4)
    for position, x, width in straps:
        assert x + width / 2 == pytest.approx(float(tube.get("x")) + position * scale, abs=0.1)


def test_too_few_straps_leave_a_stretch_bare(sound, in_english):
    sheet = sheet_of(sound, in_english, 42, wrong={"straps": 3})

    assert len(sheet.at("yours")) == 3
    assert "No strap holds this stretch." in sheet.texts


def test_no_strap_at_all_leaves_the_whole_run_bare(sound, in_english):
    sheet = sheet_of(sound, in_english, 20, wrong={"straps": 0})

    assert sheet.texts.count("20 ft") == 2
    assert not sheet.at("yours")


def test_more_straps_than_needed_hold_as_well(sound, in_english):
    sheet = sheet_of(sound, in_english, 42, wrong={"straps": 7})

    assert len(sheet.at("yours")) == 7
    assert any("more straps" in text for text in sheet.texts)


def test_distances_between_straps_are_written_to_the_inch(sound, in_english):
    texts = sheet_of(sound, in_english, 42).texts

    assert "42 ft" in texts
    assert any(text.startswith("≈ 9 ft") and text.endswith("each") for text in texts)
    assert not any("/" in text for text in texts)


def test_before_the_answer_there_is_only_the_run(sound, in_english):
    sheet = sheet_of(sound, in_english, 42, solved=False, wrong={"straps": 3})

    assert sheet.texts == ["42 ft"]
    assert not sheet.at("strap")
