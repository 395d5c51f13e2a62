"""A body for large conductors: its length only once it is known, and then to scale with its openings."""

from __future__ import annotations

import pytest

from trainer.figures.catalogue import draw_figure


@pytest.fixture
def drawn(sound, in_english):
    def draw(size="2", **named):
        return sound(draw_figure("corner_body", {"entries": f"{size} left to {size} bottom"}, say=in_english, **named))

    return draw


@pytest.mark.parametrize("size", ["1/2", "1-1/4", "1-1/2", "2", "2-1/2", "4"])
@pytest.mark.parametrize("solved", [False, True])
def test_every_size_can_be_drawn(drawn, size, solved):
    drawn(size, solved=solved, wrong={"width": 16.0})


def test_before_it_is_solved_the_length_is_asked_for_and_not_told(drawn):
    asked = drawn(solved=False)

    assert "how long?" in asked.texts
    assert "12 in" not in asked.svg
    assert "Not to scale." in asked.texts


def test_solved_the_body_is_six_openings_long(drawn):
    solved = drawn(wrong={"width": 16.0})
    parts = [(float(part.get("width")), float(part.get("height"))) for part in solved.all("rect", "fig-part")]
    tubes = [float(part.get("height")) for part in solved.all("rect", "fig-tube")]

    assert "at least 12 in" in solved.texts
    assert max(wide for wide, _ in parts) / tubes[0] == pytest.approx(6, abs=0.01)
    assert "yours: 16 in" in solved.texts


def test_three_conductors_turn_in_it(drawn):
    assert len(drawn().all("path", "fig-conductor")) == 3
