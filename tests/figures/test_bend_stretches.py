"""Stretches from pull point to pull point: every bend listed, sums and what is too much only once it is solved."""

from __future__ import annotations

import pytest

from trainer.figures.catalogue import draw_figure
from trainer.figures.lettered import Lettered

RUN = {"first": "3x90", "second": "4x90, 10, 10", "third": "90, 30, 30"}
LETTERS = Lettered({"first": "A", "second": "B", "third": "C", "coupling": "D"}, {"D": "#coupling"})


@pytest.fixture
def drawn(sound, in_english):
    def draw(given=RUN, **named):
        return sound(draw_figure("bend_stretches", given, say=in_english, **named))

    return draw


@pytest.mark.parametrize(
    "bends", ["90", "4x90, 15", "2x90, 22.5, 45, 22.5, 45, 45", "16x22.5", "3x90, 45, 45, 10, 10", "180"]
)
@pytest.mark.parametrize("solved", [False, True])
def test_any_bends_can_be_drawn(drawn, bends, solved):
    drawn(dict.fromkeys(RUN, bends), solved=solved)


def test_bends_are_listed_and_no_sum_before_it_is_solved(drawn):
    asked = drawn(solved=False)

    assert {"3 x 90°", "4 x 90°, 10°, 10°", "90°, 30°, 30°", "A  panel to conduit body", "D  coupling"} <= set(
        asked.texts
    )
    assert "together" not in asked.svg
    assert "B, conduit body to pull box: bends of 4 x 90°, 10°, 10°." in asked.all("desc")[0].text


def test_what_is_too_much_is_said_in_words(drawn):
    solved = drawn()

    assert [text.text for text in solved.all("text", "fig-wrong-text")] == ["together 380°: 360° is the most"]
    assert "together 270°" in solved.texts


def test_letters_lead_to_what_they_name(in_english):
    assert 'href="#coupling"' in draw_figure("bend_stretches", RUN, say=in_english, solved=False, lettered=LETTERS)
