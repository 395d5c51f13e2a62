from __future__ import annotations

import pytest

from trainer.problems.model import AnswerKind
from trainer.progress.effect import GAVE_UP, NOTHING, Effect, Try, effect_of, lucky_chance


@pytest.mark.parametrize(
    ("verdict", "tried", "effect"),
    [
        ("right", Try.FIRST, Effect(True, 0.7, 1.0)),
        ("right", Try.HINTED, Effect(True, 0.2, 1.0)),
        ("right", Try.LATER, Effect(True, 0.0, 0.5)),
        ("known-mistake", Try.FIRST, Effect(False, 0.7, 1.0)),
        ("known-mistake", Try.HINTED, Effect(False, 0.7, 1.0)),
        ("known-mistake", Try.LATER, NOTHING),
        ("wrong", Try.FIRST, Effect(False, 0.7, 1.0)),
        ("wrong-unit", Try.FIRST, Effect(False, 0.35, 1.0)),
        ("rounded-too-far", Try.FIRST, Effect(False, 0.35, 1.0)),
        (GAVE_UP, Try.FIRST, Effect(False, 0.35, 1.0)),
        (GAVE_UP, Try.LATER, NOTHING),
    ],
)
def test_each_verdict_counts_as_the_table_says(verdict, tried, effect):
    assert effect_of(verdict, tried) == effect


def test_an_answer_in_a_lesson_is_worth_a_fifth_at_most():
    assert effect_of("right", Try.FIRST, in_lesson=True).weight == 0.2
    assert effect_of("wrong", Try.FIRST, in_lesson=True).weight == 0.2
    assert effect_of("right", Try.LATER, in_lesson=True) == Effect(True, 0.0, 0.5)


def test_luck_falls_with_the_number_of_options():
    assert lucky_chance(AnswerKind.CHOICE, 3) == 1 / 3
    assert lucky_chance(AnswerKind.CHOICES, 5) == 1 / 32
    assert lucky_chance(AnswerKind.NUMBER, 0) == lucky_chance(AnswerKind.COUNT, 0) == 0.02
