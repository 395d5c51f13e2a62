"""Drawings of questions that give little: nothing is told in them, solved either, that the question left out."""

from __future__ import annotations

import pytest

from trainer.figures.catalogue import draw_figure

LOAD = {
    "conductor_size": "4",
    "material": "copper",
    "insulation": "THHN",
    "ambient": "86 F",
    "current_carrying": "3",
    "terminals": "75 C",
    "continuous": "24 A",
    "noncontinuous": "10 A",
}
PULL = {
    "sections": "120 ft, 90 bend r 2 ft, 20 ft",
    "friction": "0.35",
    "weight": "2.1 lb/ft",
    "conductors": "4 #4/0 THHN",
    "weight_correction": "1.2",
}


@pytest.fixture
def said(sound, in_english):
    def words_of(name, given, **named):
        return " ".join(sound(draw_figure(name, given, say=in_english, **named)).texts)

    return words_of


def test_a_load_alone_says_nothing_of_the_conductor(said):
    asked, solved = (said("circuit_load", LOAD, solved=one) for one in (False, True))

    assert "24 A for three hours or more, 10 A more" in asked
    assert "counts as" not in asked
    assert "counts as 40 A" in solved
    assert "THHN" not in solved
    assert "°C" not in solved
    assert "yours: 34 A" in said("circuit_load", LOAD, wrong={"needed": 34.0})


def test_a_circuit_without_a_load_says_so(said):
    given = {name: value for name, value in LOAD.items() if "continuous" not in name}

    assert "Nothing is said of the load." in said("circuit_load", given)


@pytest.mark.parametrize(
    ("name", "told", "untold"),
    [
        ("pull_one_way", "Fed at A", ("Fed at B", "press", "can take")),
        ("pull_both_ways", "Fed at B", ("press", "can take")),
        ("pull_pressure", "press with", ("Fed at B", "can take")),
        ("pull_grip", "at most", ("Fed at", "press", "120 ft")),
    ],
)
def test_each_pull_tells_its_part_once_it_is_solved(said, name, told, untold):
    assert told in said(name, PULL)
    assert told not in said(name, PULL, solved=False)
    assert not [words for words in untold if words in said(name, PULL)]


def test_the_conductors_on_the_rope_are_drawn_one_by_one(sound, in_english):
    drawn = sound(draw_figure("pull_grip", PULL, say=in_english, wrong={"max_tension": 900.0}))

    assert len(drawn.all("line", "fig-wire")) == 8
    assert "4 #4/0 THHN" in " ".join(drawn.texts)
    assert "yours: 900 lb" in " ".join(drawn.texts)
