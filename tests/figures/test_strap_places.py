"""Places along a run: to scale, lettered, nothing given away, wrong stretches marked, links only where they are asked for."""

from __future__ import annotations

import itertools

import pytest

from trainer.calc.strap_run import StrapRun
from trainer.figures.catalogue import draw_figure
from trainer.figures.lettered import Lettered

STRAIGHT = {"run_length": 240.0, "places": (24.0, 42.0, 60.0, 120.0, 138.0, 168.0, 216.0), "couplings": (120.0,)}
UP_AND_OVER = {
    "run_length": "24 ft",
    "places": "2 ft 6 in, 6 ft, 8 ft 2 in, 10 ft 6 in, 13 ft, 17 ft, 20 ft, 22 ft 6 in",
    "bends": "96 to 104, 200 to 208",
    "upright": "yes",
    "couplings": "12 ft",
}
UP = {
    "run_length": "16 ft",
    "places": "2 ft 6 in, 4 ft, 8 ft, 10 ft 6 in, 15 ft",
    "upright": "yes",
    "couplings": "10 ft",
}
ALONG_AND_UP = {
    "run_length": "24 ft",
    "places": "2 ft 6 in, 4 ft, 8 ft, 10 ft 6 in, 13 ft, 16 ft 10 in, 20 ft, 22 ft",
    "bends": "200 to 208",
    "terminations": "7 ft",
    "straps": "5 ft",
}


@pytest.fixture
def drawn(sound, in_english):
    def draw(inputs, **named):
        return sound(draw_figure("strap_places", inputs, say=in_english, **named))

    return draw


@pytest.mark.parametrize("inputs", [STRAIGHT, UP_AND_OVER, UP, ALONG_AND_UP])
def test_every_choice_of_two_places_can_be_drawn_before_and_after(drawn, inputs):
    letters = "abcdefgh"[: len(inputs["places"]) if inputs is STRAIGHT else inputs["places"].count(",") + 1]
    for chosen in itertools.combinations(letters, 2):
        for solved in (False, True):
            drawn(inputs, wrong={"layouts": chosen}, solved=solved)


def test_places_lie_to_scale_and_no_strap_is_drawn_before_the_answer(drawn):
    sheet = drawn(STRAIGHT, solved=False)
    marks = [path.get("d") for path in sheet.all("path", "fig-place")]

    assert len(marks) == 7
    lefts = [float(data.split()[1]) for data in marks]
    scales = [
        (b - a) / (q - p)
        for (a, b), (p, q) in zip(itertools.pairwise(lefts), itertools.pairwise(STRAIGHT["places"]), strict=True)
    ]
    assert max(scales) - min(scales) < 0.01
    assert not sheet.all("g", "fig-at")
    assert "A  2 ft" in sheet.texts


def test_a_wrong_choice_is_drawn_with_the_stretch_that_is_too_long(drawn):
    sheet = drawn(STRAIGHT, wrong={"layouts": ("a", "g")}, solved=False)

    assert [group.get("data-kind") for group in sheet.all("g", "fig-at")] == ["yours", "yours"]
    assert "yours: A, G" in sheet.texts
    assert "16 ft" in sheet.texts
    assert "From A to G it is 16 ft; up to 10 ft is allowed." in sheet.all("desc")[0].text


def test_another_right_choice_than_the_first_is_drawn_as_right(drawn):
    inputs = {**STRAIGHT, "places": (24.0, 110.0, 130.0, 216.0)}
    run = StrapRun.of(inputs)
    assert not run.faults(run.positions("acd"))

    sheet = drawn(inputs, wrong={"layouts": ("a", "c", "d")})

    assert "yours: A, C, D" not in sheet.texts
    assert [group.get("data-position") for group in sheet.all("g", "fig-at")] == ["24", "130", "216"]


def test_letters_lead_to_their_boxes_only_while_there_are_any(in_english, drawn):
    plain = drawn(STRAIGHT, solved=False)
    links = Lettered(links={"A": "#answer", "B": "#answer-2"})
    linked = draw_figure("strap_places", STRAIGHT, say=in_english, solved=False, lettered=links)

    assert "<a " not in plain.svg
    assert linked.count('<a href="#answer"') == linked.count('<a href="#answer-2"') == 1
    assert 'role="group"' in linked
