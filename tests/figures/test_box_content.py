import pytest

from trainer.figures.catalogue import draw_figure

FULL = {"conductors": "6 #12, 2 #14", "devices": "1 #12", "clamps": "2", "equipment_grounds": "5 #12"}


@pytest.mark.parametrize(
    "inputs",
    [
        FULL,
        {**FULL, "box": "4 x 2-1/8 square"},
        {"conductors": "40 #14", "devices": "5 #14", "box": "4 x 1-1/4 square"},
        {"conductors": "2 #18", "loops": "2 #12", "studs": "1", "hickeys": "1", "terminal_blocks": "1 #10"},
    ],
)
@pytest.mark.parametrize("wrong", [{}, {"volume_required": 24.75}])
@pytest.mark.parametrize("solved", [True, False])
def test_any_box_is_sound(sound, in_english, inputs, wrong, solved):
    sheet = sound(draw_figure("box_content", inputs, say=in_english, wrong=wrong, solved=solved))

    assert ("yours: 24.75 cu in" in sheet.texts) is (solved and bool(wrong))


def test_bars_are_to_one_scale_and_end_where_all_together_ends(sound, in_english):
    sheet = sound(draw_figure("box_content", {**FULL, "box": "4 x 2-1/8 square"}, say=in_english))

    *kinds, together = (float(bar.get("width")) for bar in sheet.all("rect", "fig-insulation"))
    has = float(sheet.all("rect", "fig-left")[0].get("width"))
    assert sum(kinds) == pytest.approx(together, abs=0.05)
    assert together / has == pytest.approx(27.0625 / 30.3, abs=1e-3)


def test_no_volume_is_told_before_the_answer(sound, in_english):
    sheet = sound(draw_figure("box_content", FULL, say=in_english, solved=False))

    assert "cu in" not in sheet.svg
    assert "grounds: 5 #12" in sheet.all("desc")[0].text


def test_a_box_of_splices_is_cut_into_whole_allowances(sound, in_english):
    inputs = {"box": "4 x 1-1/2 square", "conductor_size": "12"}

    solved = sound(draw_figure("box_count", inputs, say=in_english))
    asked = sound(draw_figure("box_count", inputs, say=in_english, solved=False))

    assert len(solved.all("rect", "fig-insulation")) == 9
    assert len(asked.all("rect", "fig-insulation")) == 1
    assert "9 go in" not in asked.all("desc")[0].text
