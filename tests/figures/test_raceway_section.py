from itertools import combinations
from math import hypot

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trainer.figures.catalogue import draw_figure
from trainer.figures.pile import MOST_PILED, pile


@settings(deadline=None, max_examples=25)
@given(st.lists(st.sampled_from([0.05, 0.1, 0.17, 0.3]), max_size=30))
def test_what_is_piled_lies_in_the_bore_and_on_nothing_else(radii):
    laid = pile(sorted(radii, reverse=True), 1.0)

    assert all(hypot(x, y) + radius <= 1 + 1e-5 for x, y, radius in laid)
    for (x, y, radius), (other_x, other_y, other) in combinations(laid, 2):
        assert hypot(x - other_x, y - other_y) >= radius + other - 1e-5


def test_what_is_too_large_is_left_out_and_what_is_too_much_is_not_tried():
    assert pile([2.0], 1.0) == []
    assert len(pile([0.01] * 200, 1.0)) == MOST_PILED


def given_fill(size, conductors, **more):
    return {"raceway": "emt", "trade_size": size, "conductors": conductors, **more}


@pytest.mark.parametrize("size", ["1/2", "2", "4"])
@pytest.mark.parametrize("conductors", ["1 #14 THHN", "9 #12 THHN, 4 #8 bare", "30 #6 THHN", "3 x 500 kcmil THHN"])
@pytest.mark.parametrize("solved", [True, False])
def test_any_fill_is_sound(sound, in_english, size, conductors, solved):
    sheet = sound(draw_figure("raceway_section", given_fill(size, conductors), say=in_english, solved=solved))

    assert bool(sheet.all("line", "fig-limit")) is solved
    assert conductors.split(",", maxsplit=1)[0] in sheet.all("desc")[0].text


def test_conductors_are_drawn_to_the_scale_of_the_tube(sound, in_english):
    sheet = sound(draw_figure("raceway_section", given_fill("1/2", "3 #12 THHN"), say=in_english))

    bore = float(sheet.all("circle", "fig-bore")[0].get("r"))
    radii = [float(circle.get("r")) for circle in sheet.all("circle", "fig-insulation")]
    assert radii == pytest.approx([bore * 0.130 / 0.622] * 3, abs=0.02)


def test_a_learners_percentage_stands_on_the_bar(sound, in_english):
    drawn = draw_figure("raceway_section", given_fill("1/2", "3 #12 THHN"), say=in_english, wrong={"percent": 25.0})

    assert "yours: 25%" in sound(drawn).texts
    assert sound(drawn).all("line", "fig-wrong")


def test_the_tube_that_is_asked_for_is_not_shown_before_the_answer(sound, in_english):
    inputs = {"raceway": "emt", "conductors": "6 #6 THHN, 4 #10 THHN"}

    asked = sound(draw_figure("raceway_size", inputs, say=in_english, solved=False))
    solved = sound(draw_figure("raceway_size", inputs, say=in_english))

    assert not asked.all("circle", "fig-bore")
    assert "EMT 1-1/4" in solved.all("desc")[0].text
    assert "1-1/4" not in asked.all("desc")[0].text


def test_a_count_is_drawn_only_once_it_is_known(sound, in_english):
    inputs = {"raceway": "emt", "trade_size": "3/4", "insulation": "THHN", "conductor_size": "8"}

    asked = sound(draw_figure("raceway_count", inputs, say=in_english, solved=False))
    solved = sound(draw_figure("raceway_count", inputs, say=in_english))

    assert len(asked.all("circle", "fig-insulation")) == 1
    assert len(solved.all("circle", "fig-insulation")) == 6


def test_equal_conductors_over_the_percentage_are_said_to_be_counted(sound, in_english):
    drawn = draw_figure("raceway_section", given_fill("1-1/4", "45 #12 THHN"), say=in_english)

    assert "counted" in sound(drawn).all("desc")[0].text
