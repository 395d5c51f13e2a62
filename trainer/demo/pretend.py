"""Invented people who answer: sometimes right, sometimes with the slip that is theirs, typed the way people type."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from random import Random

from trainer.calc.length import write_length
from trainer.problems.bender import group_of
from trainer.problems.model import AnswerKind, Problem, Value
from trainer.problems.trial import as_typed

__all__ = ["Pretend", "typed"]

MISTAKE, ROUNDED, OTHER_UNIT = 0.62, 0.12, 0.08
"""How a wrong answer comes about; the rest is simply wrong. Invented shares."""

GAIN = 0.09
"""What one answered problem adds to an invented person's ability (logit)."""


@dataclass(frozen=True)
class Pretend:
    """
    One invented person at work.

    Args:
        ability: Logit of the chance to get a typical problem right, before any practice.
        slip: A known mistake that this person makes more often than others; "" for none.
        gift: What is added to the ability in one skill (or taken off).
    """

    ability: float
    slip: str = ""
    gift: Mapping[str, float] = field(default_factory=dict)

    def answer(self, problem: Problem, done: int, chance: Random) -> str | list[str]:
        """What this person types or ticks for a problem, after `done` answers in its skill."""
        level = self.ability + self.gift.get(problem.skill, 0.0) + GAIN * done / (1 + done / 20)
        if chance.random() < 1 / (1 + math.exp(-level)):
            return typed(problem, problem.keys[0].value, chance)
        return self._wrong(problem, chance)

    def _wrong(self, problem: Problem, chance: Random) -> str | list[str]:
        roll = chance.random()
        if problem.mistakes and roll < MISTAKE:
            own = [mistake for mistake in problem.mistakes if mistake.id == self.slip]
            mistake = (
                own[0]
                if own and chance.random() < 0.8
                else problem.mistakes[int(chance.random() * len(problem.mistakes))]
            )
            return typed(problem, mistake.value, chance)
        key = problem.keys[0].value
        if isinstance(key, float):
            return self._wrong_number(problem, key, roll, chance)
        return guessed(problem, key, chance)

    def _wrong_number(self, problem: Problem, key: float, roll: float, chance: Random) -> str:
        if problem.kind is AnswerKind.LENGTH and roll < MISTAKE + ROUNDED:
            return f"{round(key)}"
        if problem.kind is AnswerKind.LENGTH and roll < MISTAKE + ROUNDED + OTHER_UNIT:
            return f"{round(key * 25.4)}"
        # A multiple of the key, well away from it.
        return typed_number(problem, max(1.0, round(key * (0.6 + 0.9 * chance.random()) + 1)), chance)


def typed(problem: Problem, value: Value, chance: Random) -> str | list[str]:
    """A value as a person would enter it."""
    if problem.kind in {AnswerKind.ORDER, AnswerKind.BENDER, AnswerKind.PLACES}:
        return as_typed(problem, value)[0]
    if isinstance(value, tuple):
        return list(value)
    return value if isinstance(value, str) else typed_number(problem, value, chance)


def typed_number(problem: Problem, value: float, chance: Random) -> str:
    """A number the way people write it: lengths to the sixteenth, in one of several spellings."""
    if problem.kind is not AnswerKind.LENGTH:
        return f"{value:.4g}"
    plain = write_length(value)
    spellings = (plain, plain.removesuffix(" in") + '"', plain.removesuffix(" in"), write_length(value, feet=True))
    return spellings[int(chance.random() * len(spellings))]


def guessed(problem: Problem, key: Value, chance: Random) -> str | list[str]:
    """Another option than the right one, or another set of them."""
    ids = [option.id for option in problem.options]
    if problem.kind is AnswerKind.ORDER:
        return ids
    if problem.kind is AnswerKind.BENDER:
        by_group = {group_of(one): one for one in chance.sample(ids, len(ids))}
        return list(by_group.values())
    if isinstance(key, tuple):
        turned = ids[int(chance.random() * len(ids))]
        return sorted(set(key) ^ {turned})
    others = [option for option in ids if option != key]
    return others[int(chance.random() * len(others))]
