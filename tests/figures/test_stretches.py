from hypothesis import given, settings
from hypothesis import strategies as st

from trainer.calc.catalogue import CATALOGUE
from trainer.figures.catalogue import draw_figure


def sheet_of(sound, say, run, **more):
    return sound(draw_figure("stretches", {"run": run}, say=say, **more))


@settings(deadline=None, max_examples=40)
@given(st.lists(st.integers(3, 90), min_size=1, max_size=9), st.booleans())
def test_any_run_is_sound(sound, in_english, feet, solved):
    sheet_of(sound, in_english, ", ".join(f"{one} ft" for one in feet), solved=solved, wrong={"straps": 7.0})


def test_there_are_as_many_straps_as_the_core_counts(sound, in_english):
    run = "33 ft, 12 in + 40 ft + 12 in, 13 ft"
    sheet = sheet_of(sound, in_english, run)

    assert len(sheet.at("strap")) == CATALOGUE["material_list"].solve({"run": run}).straps
    assert "4 straps" in sheet.texts


def test_before_the_answer_no_strap_is_seen(sound, in_english):
    sheet = sheet_of(sound, in_english, "33 ft, 27 ft", solved=False)

    assert not sheet.at("strap")
    assert sheet.texts == ["27 ft", "33 ft"]


def test_a_wrong_number_stands_below(sound, in_english):
    assert "yours: 3 straps" in sheet_of(sound, in_english, "33 ft, 27 ft", wrong={"straps": 3.0}).texts
