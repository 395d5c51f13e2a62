import math
from itertools import pairwise

import pytest

from trainer.calc.segment_bend import segment_bend
from trainer.figures.catalogue import draw_figure

TANK = {"radius": "30 in", "angle": "90", "shots": "15", "distance": "66 in"}


def places(sheet, kind):
    return [position for position, _, _ in sheet.at(kind)]


def test_the_shots_lie_evenly_along_the_developed_length(sound, in_english):
    sheet = sound(draw_figure("segment", TANK, say=in_english))
    marks = sheet.at("shot")
    result = segment_bend(30, 90, 15)

    assert len(marks) == 15
    steps = {round(after[1] - before[1], 1) for before, after in pairwise(marks)}
    assert max(steps) - min(steps) <= 0.11
    assert marks[0][0] == pytest.approx(result.first_shot, rel=1e-4)
    assert marks[-1][0] == pytest.approx(result.developed_length - result.first_shot, rel=1e-4)


def test_unsolved_neither_shots_nor_lengths_along_the_tube_are_told(sound, in_english):
    sheet = sound(draw_figure("segment", TANK, say=in_english, solved=False))
    said = " ".join(sheet.texts)

    assert places(sheet, "shot") == []
    assert "to the corner 66 in" in said
    assert "developed" not in said
    assert "3-1/8 in" not in said


def test_a_learners_spacing_is_drawn_over_the_right_one_as_far_as_the_tube_goes(sound, in_english):
    sheet = sound(draw_figure("segment", TANK, say=in_english, wrong={"shot_spacing": 3.4}))

    assert places(sheet, "yours")[0] == pytest.approx(1.7)
    assert "yours 3-3/8 in" in sheet.texts


def test_a_learners_first_mark_lies_as_far_from_the_right_one_as_it_is_wrong(sound, in_english):
    result = segment_bend(30, 90, 15, 66)
    sheet = sound(draw_figure("segment", TANK, say=in_english, wrong={"first_mark": result.first_mark - 1.5}))

    assert places(sheet, "yours") == [pytest.approx(result.first_shot - 1.5, rel=1e-4)]


def test_tubes_round_one_centre_are_all_drawn_and_the_own_radius_only_when_solved(sound, in_english):
    around = {"radius": "30 in", "angle": "90", "shots": "15", "centre_spacing": "3 in", "neighbour": "2"}
    asked = sound(draw_figure("segment", around, say=in_english, solved=False))
    solved = sound(draw_figure("segment", around, say=in_english))

    assert len(asked.all("path", "fig-tube")) == 3
    assert "36 in" not in " ".join(asked.texts)
    assert "radius 36 in" in solved.texts


@pytest.mark.parametrize("angle", ["10", "45", "90", "135", "170"])
@pytest.mark.parametrize("shots", ["2", "30"])
def test_slight_and_long_bends_stay_on_the_drawing(sound, in_english, angle, shots):
    given = {"radius": "24 in", "angle": angle, "shots": shots}

    sound(draw_figure("segment", given, say=in_english))
    assert math.isfinite(segment_bend(24, float(angle), int(shots)).setback)
