import pytest

from trainer.figures.catalogue import draw_figure

CHANGE = {"length": "140 ft", "temperature_change": "80 F", "material": "steel"}
SETTING = {"length": "90 ft", "material": "pvc", "coldest": "-10 F", "installed": "40 F", "hottest": "120 F"}


@pytest.mark.parametrize("wrong", [{}, {"change": 0.07}, {"change": 9.5}, {"change_by_table": 1.7}])
@pytest.mark.parametrize("change", ["80 F", "-80 F", "0 F"])
@pytest.mark.parametrize("solved", [True, False])
def test_any_change_is_sound(sound, in_english, wrong, change, solved):
    given = {**CHANGE, "temperature_change": change}

    sound(draw_figure("expansion", given, say=in_english, wrong=wrong, solved=solved))


@pytest.mark.parametrize("today", ["-10 F", "-8 F", "40 F", "119 F", "120 F"])
@pytest.mark.parametrize("wrong", [{}, {"growth": 3.1}, {"movement": 0.4}, {"fittings": 5}])
@pytest.mark.parametrize("solved", [True, False])
def test_any_day_is_sound(sound, in_english, today, wrong, solved):
    given = {**SETTING, "installed": today, "travel": "4 in"}

    sound(draw_figure("expansion_setting", given, say=in_english, wrong=wrong, solved=solved))


def test_nothing_is_told_before_the_answer(sound, in_english):
    asked = sound(draw_figure("expansion", CHANGE, say=in_english, solved=False))
    solved = sound(draw_figure("expansion", CHANGE, say=in_english))

    assert "0.87 in" not in asked.svg
    assert "0.87 in" in solved.texts


def test_the_part_done_today_is_drawn_in_proportion(sound, in_english):
    sheet = sound(draw_figure("expansion_setting", SETTING, say=in_english))

    cold, today, hot = (float(bar.get("width")) for bar in sheet.all("rect", "fig-tube"))
    assert (today - cold) / (hot - cold) == pytest.approx(50 / 130, abs=1e-3)
