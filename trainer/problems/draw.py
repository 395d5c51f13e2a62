"""
A problem drawn from a family: the seed gives the numbers, the core the key, and a draw that could mislead is thrown out.

Everything random comes from `random.Random(seed).random()`, so that a seed gives the same problem on every machine and in
every version of Python.
"""

from __future__ import annotations

import contextlib
import random
from collections import Counter
from collections.abc import Iterable, Mapping
from typing import Any

from trainer.calc.expression import Expression, ExpressionError
from trainer.calc.message import InputError
from trainer.calc.strap_run import StrapRun
from trainer.calc.units import UNITS
from trainer.problems.bender import draw_bender
from trainer.problems.choosing import Choosing, draw_options
from trainer.problems.drawn import Drawn, dress
from trainer.problems.errors import DrawError
from trainer.problems.given import calculation_values
from trainer.problems.job_draw import Run, draw_parts
from trainer.problems.misfit import Misfit
from trainer.problems.model import CHOOSING, ONE, AnswerKind, Key, Problem, Value
from trainer.problems.ordering import shuffled
from trainer.problems.parts import Family, KnownMistake
from trainer.problems.placing import place_keys, place_mistakes, place_options

__all__ = ["TRIES", "draw", "settle"]

TRIES = 200
Numbers = Mapping[str, float | str]
FORGIVEN = 1e-9
#: Per unit, what a number in each other unit of the quantity is multiplied with.
OTHER_UNITS = {
    own.id: [
        float(other.factor / own.factor)
        for other in UNITS.values()
        if other.quantity == own.quantity and other is not own
    ]
    for own in UNITS.values()
}


def draw(family: Family, seed: int, *, edition: str = "2023", language: str = "en") -> Problem:
    """
    The problem of a family that a seed gives.

    Args:
        family: The family to draw from.
        seed: From 0; the same one gives the same problem again.
        edition: Edition of NFPA 70 for calculations that ask for it.
        language: In which the core's own words are said.

    Raises:
        DrawError: When nothing fits in 200 tries: an error of the family.
        TemplateError: When the family's words want a name that has no value with these numbers.
    """
    if family.job is not None:
        parts = draw_parts(Run(family.job.job, seed, edition, settle))
        return dress(family, seed, edition, parts[family.job.at], language)
    chance = random.Random(seed)
    reasons: Counter[str] = Counter()
    for _ in range(TRIES):
        try:
            return dress(family, seed, edition, _attempt(family, chance, edition), language)
        except Misfit as misfit:
            reasons[str(misfit)] += 1
    raise DrawError(family.id, seed, dict(reasons.most_common()))


def _attempt(family: Family, chance: random.Random, edition: str) -> Drawn:
    numbers = dict(pair for parameter in family.parameters for pair in parameter.draw(chance))
    return settle(family, chance, numbers, edition)


def settle(family: Family, chance: random.Random, numbers: Numbers, edition: str, *, own: bool = False) -> Drawn:
    """
    What follows from a family's numbers.

    Args:
        family: The family.
        chance: Gives the options and their order.
        numbers: The drawn ones, and those that a part of a job takes over.
        edition: Of the rules.
        own: Whether a learner's own numbers are among them: a known mistake that is too near the right answer is then
            left out, and throws nothing out.

    Raises:
        Misfit: When it makes no good problem.
    """
    try:
        values = calculation_values(family, numbers, edition)
        result = family.calculation.solve(values)
    except InputError as error:
        raise Misfit(f"the calculation refuses it: {error.field or ''} {error.reason.id}") from None
    outputs = {**family.facts, **_numeric_outputs(family, result)}
    known = {**outputs, **{name: value for name, value in numbers.items() if not isinstance(value, str)}}
    for condition in family.keep:
        if not _holds(condition, known):
            raise Misfit(f"keep: {condition.text}")
    if family.kind is AnswerKind.ORDER:
        pairs = [(one.id, one.before) for one in family.mistakes if one.before and _possible(one, numbers, known)]
        keys = tuple(Key(order) for order in family.orders)
        return Drawn(numbers, outputs, keys, tuple(pairs), shuffled(chance, family.orders))
    if family.kind is AnswerKind.BENDER:
        can_be = [mistake for mistake in family.mistakes if _possible(mistake, numbers, known)]
        right, slips, options = draw_bender(family, values, result, known, can_be)
        return Drawn(numbers, outputs, tuple(Key(one) for one in right), slips, options)
    if family.kind is AnswerKind.PLACES:
        run = StrapRun.of(values)
        keys, possible = place_keys(run, result), [one for one in family.mistakes if _possible(one, numbers, known)]
        shown = place_mistakes(run, result.fewest, possible)
        return Drawn(numbers, outputs, keys, shown, place_options(run))
    if family.kind in CHOOSING:
        choosing = draw_options(family, chance, result, known)
        mistakes = tuple(_option_mistakes(family, choosing, numbers, known))
        return Drawn(numbers, outputs, (choosing.key(family.kind),), mistakes, choosing.options)
    keys = _keys(family, outputs)
    return Drawn(numbers, outputs, keys, tuple(_number_mistakes(family, keys, numbers, known, own=own)))


def _numeric_outputs(family: Family, result: Any) -> dict[str, float]:
    """The outputs that are numbers, or yes and no as 1 and 0."""
    values = ((name, value) for name, (value, _) in family.calculation.results(result).items())
    return {name: float(value) for name, value in values if isinstance(value, int | float)}


def _holds(condition: Expression, known: Mapping[str, float]) -> bool:
    """Whether a condition holds; one about an output that is missing here does not."""
    try:
        return bool(condition(known))
    except ExpressionError:
        return False


def _keys(family: Family, outputs: Mapping[str, float]) -> tuple[Key, ...]:
    """An accepted answer for each basis that has one with these numbers; the first basis always has to."""
    keys = tuple(Key(outputs[name], basis) for basis, name in family.answers if name in outputs)
    if not keys or keys[0].basis != family.answers[0][0]:
        raise Misfit("no answer on the first basis")
    if any(key.value < 0 for key in keys if isinstance(key.value, float)):
        raise Misfit("an answer below zero, which nobody can type")
    return keys


def _option_mistakes(
    family: Family, choosing: Choosing, numbers: Numbers, known: Mapping[str, float]
) -> Iterable[tuple[str, Value]]:
    """The known mistakes about an option that is shown; with one choice, about a wrong one."""
    shown = {option.id for option in choosing.options}
    if family.kind in ONE:
        shown -= choosing.right
    for mistake in family.mistakes:
        if mistake.option in shown and _possible(mistake, numbers, known):
            yield mistake.id, mistake.option


def _number_mistakes(
    family: Family, keys: tuple[Key, ...], numbers: Numbers, known: Mapping[str, float], *, own: bool
) -> Iterable[tuple[str, Value]]:
    """Each value of each known mistake that can be made here; one that could be taken for right is a Misfit or left out."""
    accepted = [key.value for key in keys if isinstance(key.value, float)]
    for mistake in family.mistakes:
        for value in _values(mistake, known):
            if not _possible(mistake, numbers, {**known, "value": value}):
                continue
            try:
                _tell_apart(family, mistake, value, accepted)
            except Misfit:
                if not own:
                    raise
                continue
            yield mistake.id, value


def _values(mistake: KnownMistake, known: Mapping[str, float]) -> Iterable[float]:
    """What the mistake leads to; a formula about an output that is missing here leads nowhere."""
    for formula in mistake.values:
        with contextlib.suppress(ExpressionError):
            yield float(formula(known))


def _possible(mistake: KnownMistake, numbers: Numbers, known: Mapping[str, float]) -> bool:
    """Whether the route can be taken here: the drawn words and the formula that it asks for."""
    if any(numbers[name] not in words for name, words in mistake.where.items()):
        return False
    return mistake.when is None or _holds(mistake.when, known)


def _tell_apart(family: Family, mistake: KnownMistake, value: float, accepted: list[float]) -> None:
    """A known mistake keeps its distance from every accepted answer, and is none of them in another unit."""
    gap = family.shape.ask.gap * family.tolerance - FORGIVEN
    if family.kind is AnswerKind.COUNT:
        gap = 0.5
        if not value.is_integer():
            raise Misfit(f"mistake {mistake.id}: a count that is no whole number")
    if value < 0:
        raise Misfit(f"mistake {mistake.id}: below zero, which nobody can type")
    if any(abs(value - key) < gap for key in accepted):
        raise Misfit(f"mistake {mistake.id}: too near an accepted answer")
    for factor in OTHER_UNITS.get(family.unit, ()):
        if any(abs(value * factor - key) <= family.tolerance for key in accepted):
            raise Misfit(f"mistake {mistake.id}: an accepted answer in another unit")
