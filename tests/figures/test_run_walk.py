"""A finished run drawn: letters where they belong, no fault given away before the answer, and each one marked after it."""

from __future__ import annotations

import itertools

import pytest

from trainer.figures.catalogue import draw_figure
from trainer.figures.lettered import Lettered

LETTERS = Lettered({"gap-1": "A", "gap-2": "B", "coupling-1": "C", "gap-3": "D", "gap-4": "E"})
UP_AND_OVER = {"bends": "96 to 104, 218 to 226", "angles": "90, 90", "upright": "yes", "couplings": "184 in"}


@pytest.fixture
def drawn(sound, in_english):
    def draw(gaps, more, **named):
        return sound(draw_figure("run_walk", {"gaps": gaps, **more}, say=in_english, lettered=LETTERS, **named))

    return draw


@pytest.mark.parametrize("more", [{"couplings": "10 ft"}, UP_AND_OVER])
@pytest.mark.parametrize("solved", [False, True])
def test_every_mix_of_good_and_bad_stretches_can_be_drawn(drawn, more, solved):
    for gaps in itertools.product((20, 48), (90, 132), (100, 132), (30, 45)):
        drawn(gaps, more, solved=solved)


def test_a_fault_is_marked_and_said_only_when_solved(drawn):
    before, after = (drawn((28, 114, 132, 30), {"couplings": "10 ft"}, solved=solved) for solved in (False, True))

    assert "fig-wrong" not in before.svg
    assert "is the most" not in before.svg
    assert "D  11 ft" in before.texts
    assert "11 ft" in after.texts
    assert "it is 11 ft; 10 ft is the most." in after.all("desc")[0].text
