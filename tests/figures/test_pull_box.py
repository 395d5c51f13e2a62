import pytest

from trainer.figures.catalogue import draw_figure

THROUGH = "3 left to 3 right, 2 left to 2 right"
CORNER = "3 left to 3 bottom, 2 left to 2 bottom, 2 left to 2 bottom"


@pytest.mark.parametrize(
    "entries",
    [THROUGH, CORNER, "4 left to 4 top, 1/2 right splice", "2 back to 2 left", "1 top to 1 bottom", "2 left to 2 left",
     "3 left A B, 2 top A, 2 bottom B", ", ".join(["2 left row 2 to 2 top"] * 8)],
)  # fmt: skip
@pytest.mark.parametrize("wrong", [{}, {"width": 18.0}])
@pytest.mark.parametrize("solved", [True, False])
def test_any_box_is_sound(sound, in_english, entries, wrong, solved):
    sheet = sound(draw_figure("pull_box", {"entries": entries}, say=in_english, wrong=wrong, solved=solved))

    assert ("yours: 18 in" in sheet.texts) is (solved and bool(wrong))


def test_box_and_tubes_are_to_one_scale(sound, in_english):
    sheet = sound(draw_figure("pull_box", {"entries": THROUGH}, say=in_english))

    width = float(sheet.all("rect", "fig-box")[0].get("width"))
    tubes = [float(tube.get("height")) for tube in sheet.all("rect", "fig-tube")]
    assert max(tubes) / width == pytest.approx(3 / 24, abs=1e-3)


def test_no_dimension_is_told_before_the_answer(sound, in_english):
    asked = sound(draw_figure("pull_box", {"entries": CORNER}, say=in_english, solved=False))
    solved = sound(draw_figure("pull_box", {"entries": CORNER}, say=in_english))

    assert "22 in" not in asked.svg
    assert "Left to right: at least 22 in." in solved.all("desc")[0].text
    assert "Not to scale." in asked.texts


def test_small_conductors_ask_for_nothing(sound, in_english):
    sheet = sound(draw_figure("pull_box", {"entries": THROUGH, "conductor_size": "12"}, say=in_english))

    assert "The rule asks for no dimension here." in sheet.texts


def test_the_dimensions_that_are_asked_for_stand_on_the_drawing(sound, in_english):
    straight = sound(draw_figure("pull_box", {"entries": THROUGH}, say=in_english))
    corner = sound(draw_figure("pull_box", {"entries": "3 left to 3 right, 2 left to 2 bottom"}, say=in_english))

    assert straight.texts.count("24 in") == 1
    assert {"24 in", "12 in"} <= set(corner.texts)


@pytest.mark.parametrize(
    "entries", ["3 left to 3 right, 2 left to 2 bottom", "2 top to 2 bottom, 1 top to 1 bottom", THROUGH]
)
def test_a_straight_pull_is_drawn_straight(sound, in_english, entries):
    sheet = sound(draw_figure("pull_box", {"entries": entries}, say=in_english))

    through = sheet.all("line", "fig-conductor")[0]
    assert through.get("y1") == through.get("y2") or through.get("x1") == through.get("x2")
