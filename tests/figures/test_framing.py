"""A run through framing: to scale along the run, the hole where it was bored, fasteners only once it is solved."""

from __future__ import annotations

import pytest

from trainer.calc.framing_support import FRAMING
from trainer.figures.catalogue import draw_figure

STUDS = {"run_length": "30 ft", "framing": "wood-studs", "spacing": "16 in", "edge": "1 in"}


@pytest.fixture
def drawn(sound, in_english):
    def draw(given=STUDS, **named):
        return sound(draw_figure("framing", given, say=in_english, **named))

    return draw


@pytest.mark.parametrize("framing", FRAMING)
@pytest.mark.parametrize("spacing", ["16 in", "4 ft", "12 ft", "15 ft"])
@pytest.mark.parametrize("run", ["2 ft", "21 ft", "38 ft"])
@pytest.mark.parametrize("solved", [False, True])
def test_every_kind_of_framing_can_be_drawn(drawn, framing, spacing, run, solved):
    drawn({"run_length": run, "framing": framing, "spacing": spacing, "edge": "3/4 in"}, solved=solved)


def test_the_framing_stands_to_scale_along_the_run(drawn):
    pieces = drawn().at("framing")
    first, second = (x + width / 2 for _, x, width in pieces[:2])
    left, right = 32, 328

    assert len(pieces) == 22
    assert second - first == pytest.approx(16 / 360 * (right - left), abs=0.05)


def test_a_bored_hole_has_its_distance_to_the_edge_and_an_opening_from_the_works_has_none(drawn):
    assert "1 in" in drawn().texts
    assert "1 in" not in drawn({**STUDS, "framing": "metal-studs"}).texts
    assert "within 1 in of the edge" in drawn(solved=False).all("desc")[0].text


def test_fasteners_are_drawn_and_told_only_once_it_is_solved(drawn):
    asked, solved = drawn(solved=False), drawn()

    assert not asked.at("strap")
    assert [place for place, _, _ in solved.at("strap")] == [32, 336]
    assert "Fasteners" not in " ".join(asked.texts)
    assert "carry the run" in " ".join(solved.texts)


def test_framing_too_far_apart_takes_fasteners_between(drawn):
    solved = drawn({**STUDS, "framing": "frames", "spacing": "12 ft"})

    assert len(solved.at("strap")) == 4
    assert "too far apart" in " ".join(solved.texts)
