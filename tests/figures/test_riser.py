"""A riser: to scale, its floors where they are given, its straps only once it is solved."""

from __future__ import annotations

import pytest

from trainer.figures.catalogue import draw_figure

SHAFT = {"run_length": "29 ft", "floors": "4 ft, 14 ft, 24 ft"}


@pytest.fixture
def drawn(sound, in_english):
    def draw(given=SHAFT, **named):
        return sound(draw_figure("riser", given, say=in_english, **named))

    return draw


@pytest.mark.parametrize("run", ["2 ft", "5 ft 6 in", "17 ft", "38 ft", "90 ft"])
@pytest.mark.parametrize("floors", [None, "4 ft", "3 ft, 12 ft, 21 ft", "7 ft 6 in, 21 ft, 34 ft 6 in"])
@pytest.mark.parametrize("solved", [False, True])
def test_any_riser_can_be_drawn(drawn, run, floors, solved):
    drawn({"run_length": run, "floors": floors}, solved=solved)


def test_the_floors_and_the_height_are_given_and_no_strap_before_it_is_solved(drawn):
    asked = drawn(solved=False)

    assert {"29 ft", "10 ft", "panel", "pull box"} <= set(asked.texts)
    assert not asked.at("strap")
    assert "4 ft, 14 ft, 24 ft above the panel" in asked.all("desc")[0].text
    assert "One good layout" not in asked.svg


def test_the_straps_stand_to_scale_with_each_distance_written(drawn):
    solved = drawn(wrong={"straps": 3.0})
    straps = solved.at("strap")

    assert len(straps) == 4
    assert "yours" in " ".join(solved.all("text", "fig-wrong-text")[0].text.split())
    heights = [float(group[0].get("y")) for group in solved.all("g", "fig-at")]
    assert heights == sorted(heights, reverse=True)
    for (place, _, _), y in zip(straps, heights, strict=True):
        assert 300 - place * 300 / 348 - 3 == pytest.approx(y, abs=0.01)
