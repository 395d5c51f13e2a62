import pytest

from trainer.figures.catalogue import draw_figure

PULL = {
    "sections": "120 ft, 90 bend r 2 ft, 20 ft up",
    "friction": "0.35",
    "weight": "2.1 lb/ft",
    "conductors": "3 #4/0 THHN",
    "weight_correction": "1.2",
}


def words_of(sheet):
    return " ".join(sheet.texts)


def test_unsolved_the_sections_are_numbered_and_no_tension_is_told(sound, in_english):
    sheet = sound(draw_figure("pull", PULL, say=in_english, solved=False))

    assert {"A", "B", "1", "2", "3"} <= set(sheet.texts)
    assert "3: 20 ft up, slope 90°" in words_of(sheet)
    assert " lb" not in words_of(sheet)


def test_solved_the_tension_stands_behind_each_section_and_both_ways_are_told(sound, in_english):
    said = words_of(sound(draw_figure("pull", PULL, say=in_english, wrong={"tension": 300.0})))

    assert "1: 120 ft straight, then 106 lb" in said
    assert "Fed at B, pulled at A" in said
    assert "The conductors can take 5078 lb." in said
    assert "yours: 300 lb" in said


def test_longer_pieces_are_drawn_longer_as_far_as_they_are_seen(sound, in_english):
    sheet = sound(draw_figure("pull", {**PULL, "sections": "160 ft, 45 bend r 2 ft, 80 ft"}, say=in_english))
    places = {text: box for box, text in sheet.boxes}

    assert places["2"].left > places["1"].left
    assert places["2"].left - places["1"].left > places["3"].left - places["2"].left > 0


def test_without_bends_nothing_is_said_about_them(sound, in_english):
    said = words_of(sound(draw_figure("pull", {**PULL, "sections": "90 ft"}, say=in_english)))

    assert "bend" not in said.lower()


@pytest.mark.parametrize("bends", [1, 3, 6, 12])
def test_many_bends_stay_on_the_drawing(sound, in_english, bends):
    sections = ", ".join(["90 bend r 2 ft, 10 ft"] * bends)

    sound(draw_figure("pull", {**PULL, "sections": sections, "feed_tension": "40 lbf"}, say=in_english))
