"""What a draw settles, before any words: numbers, keys, values of known mistakes, options in their order."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

from trainer.calc.message import Message
from trainer.calc.strap_run import StrapRun
from trainer.problems.given import calculation_values
from trainer.problems.model import AnswerKind, Key, MistakeValue, Option, Problem, Value
from trainer.problems.parts import Family, Statement, WorkStep
from trainer.text.words import say

__all__ = ["Drawn", "DrawnOption", "dress"]


class DrawnOption(Struct, frozen=True):
    """An option by its id, with the core's words for it as messages; None where the family has its own words."""

    id: str
    from_core: tuple[Message, Message] | None = None


class Drawn(Struct, frozen=True):
    """
    One instance without words.

    Args:
        numbers: The drawn parameters.
        outputs: The calculation's numbers with them.
        keys: Accepted answers.
        mistakes: Id and value of each known mistake that this instance can show.
        options: In the order shown.
    """

    numbers: Mapping[str, float | str]
    outputs: Mapping[str, float]
    keys: tuple[Key, ...]
    mistakes: tuple[tuple[str, Value], ...]
    options: tuple[DrawnOption, ...] = ()


def dress(family: Family, seed: int, edition: str, drawn: Drawn, language: str = "en") -> Problem:
    """
    Put the family's words to what was drawn.

    Raises:
        TemplateError: When a word of the family wants a name that has no value here.
        KeyError: When a stored mistake or option is none of this family's.
    """
    values = {**drawn.outputs, **drawn.numbers}
    on_run = family.kind is AnswerKind.PLACES
    says = {mistake.id: mistake.say for mistake in family.mistakes}
    return Problem(
        family_id=family.id,
        title=family.title,
        skill=family.skill,
        lesson=family.lesson,
        level=family.level,
        rules_hash=family.rules_hash,
        words_hash=family.words_hash,
        seed=seed,
        edition=edition,
        numbers=drawn.numbers,
        text=family.text.fill(values, family.phrases),
        kind=family.kind,
        unit=family.unit,
        tolerance=family.tolerance,
        keys=drawn.keys,
        mistakes=tuple(
            MistakeValue(mistake, value, says[mistake].fill({**values, "value": value}, family.phrases))
            for mistake, value in drawn.mistakes
        ),
        options=tuple(_option(family, option, values, language) for option in drawn.options),
        hints=tuple(hint.fill(values, family.phrases) for hint in family.hints),
        sources=family.sources,
        outputs=drawn.outputs,
        run=StrapRun.of(calculation_values(family, drawn.numbers, edition)) if on_run else None,
    )


def _option(family: Family, option: DrawnOption, values: Mapping[str, object], language: str) -> Option:
    if option.from_core is not None:
        text, why = option.from_core
        return Option(option.id, say(text, language), say(why, language), option.from_core)
    own: tuple[Statement | WorkStep, ...] = (*family.statements, *family.steps)
    words = {one.id: one for one in own}[option.id]
    if isinstance(words, Statement) and words.value is not None:
        values = {**values, "value": words.value(values)}
    return Option(option.id, words.text.fill(values, family.phrases), words.why.fill(values, family.phrases))
