"""What is shown with a problem: the worked steps in the learner's own numbers, cautions, the drawing."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import partial

from trainer.calc.message import InputError, Message
from trainer.calc.step import Step
from trainer.calc.trace import steps_towards
from trainer.figures.bender_setting import draw_bender_setting
from trainer.figures.catalogue import draw_figure
from trainer.figures.lettered import PLAIN, Lettered
from trainer.figures.words import Words
from trainer.problems.bender import job_of, letters_of, nearest, pencils_of, setting_of
from trainer.problems.given import calculation_values
from trainer.problems.misfit import Misfit
from trainer.problems.model import LETTERED, AnswerKind, Problem, Value, Verdict
from trainer.problems.parts import Family
from trainer.text.sentences import english
from trainer.text.words import say

__all__ = ["cautions", "drawing", "draws_answer", "worked"]

#: Ways of setting the bender that are drawn where more than one is right.
MOST_RIGHT = 2
NO_LINKS: Mapping[str, str] = {}


def worked(family: Family, problem: Problem) -> list[Step]:
    """
    The steps that lead to the key, on every accepted basis, or to what decides about the options.

    Empty where the calculation, mended since, refuses the numbers of an old problem.
    """
    try:
        _, steps = family.calculation.trace(calculation_values(family, problem.numbers, problem.edition))
    except InputError:
        return []
    leading = [step for name in _decisive(family) for step in steps_towards(steps, name)]
    return [step for step in steps if step in leading] or steps


def cautions(family: Family) -> tuple[Message, ...]:
    """What to mind before doing this with the hands."""
    return family.calculation.cautions


def drawing(
    family: Family,
    problem: Problem,
    verdict: Verdict | None = None,
    *,
    solved: bool | None = None,
    language: str = "en",
    key: str = "",
    links: Mapping[str, str] = NO_LINKS,
    earlier: bool = False,
) -> str:
    """
    The figure of a problem as SVG; "" where the family has none or it could not be drawn with these numbers.

    Args:
        family: In the version with which the problem was drawn.
        problem: The problem.
        verdict: Of a wrong answer, whose value is drawn in beside the right one.
        solved: Whether the answer may be seen; left out, it may where there is a verdict to be drawn in. False with a
            verdict draws what the wrong answer makes of the tube, and no mark.
        language: Of the words in it.
        key: Tells apart equal figures on one page.
        links: Where the letter of an option in the drawing leads on the page, by the option's id.
        earlier: Whether the wrong answer was followed by a right one: what it makes is not called "yours" then.
    """
    in_words = partial(_said_of_earlier if earlier else say, language=language)
    if family.bender:
        return _bender_drawn(family, problem, verdict, solved=solved, words=Words(in_words), key=key)
    if not family.figure and family.job is not None and family.job.job.parts[0].figure:
        return _scene(family.job.job.parts[0], problem, language, key)
    if not family.figure:
        return ""
    inputs = calculation_values(family, problem.numbers, problem.edition)
    wrong = _wrong(family, verdict)
    shown = verdict is not None if solved is None else solved
    try:
        lettered = _lettered(family, problem, links)
        return draw_figure(family.figure, inputs, say=in_words, wrong=wrong, solved=shown, key=key, lettered=lettered)
    except InputError:
        return ""


def draws_answer(family: Family, verdict: Verdict) -> bool:
    """Whether what a wrong answer makes is drawn; a statement about the drawing is not."""
    return bool(family.bender) or bool(_wrong(family, verdict))


def _said_of_earlier(message: Message, language: str) -> str:
    """The sentence for an answer before the last one, where there is one of its own."""
    sentence = f"earlier.{message.id}"
    return say(Message(sentence, message.params) if sentence in english() else message, language)


def _scene(first: Family, problem: Problem, language: str, key: str) -> str:
    """What a part without a figure of its own shows: what is given at the start of its job."""
    inputs = calculation_values(first, problem.numbers, problem.edition)
    try:
        return draw_figure(first.figure, inputs, say=partial(say, language=language), solved=False, key=key)
    except InputError:
        return ""


def _bender_drawn(
    family: Family, problem: Problem, verdict: Verdict | None, *, solved: bool | None, words: Words, key: str
) -> str:
    """The marked tube; a wrong choice as the bender sits by it; once solved the right ones, the nearest first."""
    values = calculation_values(family, problem.numbers, problem.edition)
    chosen = verdict.value if verdict else None
    right = [one.value for one in problem.keys if isinstance(one.value, tuple)]
    yours = chosen if isinstance(chosen, tuple) and chosen not in right else None
    if yours:
        near = nearest(yours, right)
        right = sorted(right, key=lambda one: one not in near)
    shown = right[:MOST_RIGHT] if (verdict is not None if solved is None else solved) else []
    try:
        job = job_of(family, values, family.calculation.solve(values))
        pencils = pencils_of(family, {**problem.outputs, **_numbers(problem)})
    except (InputError, Misfit):
        return ""
    return draw_bender_setting(
        job,
        letters_of(pencils, job),
        words,
        right=[job.made(setting_of(one, pencils)) for one in shown],
        yours=job.made(setting_of(yours, pencils)) if yours else None,
        key=key or "bender",
    )


def _numbers(problem: Problem) -> dict[str, float]:
    return {name: value for name, value in problem.numbers.items() if not isinstance(value, str)}


def _lettered(family: Family, problem: Problem, links: Mapping[str, str]) -> Lettered:
    """The letters of the options that stand in the drawing, in its order."""
    if problem.kind not in LETTERED:
        return PLAIN
    letters = {option.id: chr(ord("A") + place) for place, option in enumerate(problem.options)}
    places = {one.id: one.at for one in family.statements}
    at = {places.get(option, option): letter for option, letter in letters.items()}
    return Lettered(at, {letters[option]: link for option, link in links.items()})


def _decisive(family: Family) -> Iterable[str]:
    """Outputs that decide: the answers, the lists of options, or what the statements ask about."""
    if options := family.shape.ask.options:
        return options.right, options.wrong
    if family.statements:
        return sorted(frozenset[str]().union(*(statement.right.names for statement in family.statements)))
    return [output for _, output in family.answers]


def _wrong(family: Family, verdict: Verdict | None) -> dict[str, Value]:
    """A wrong value under the name of its output; statements and steps of work have no place in a drawing."""
    if verdict is None or verdict.value is None or family.statements or family.steps:
        return {}
    if family.kind is AnswerKind.PLACES:
        return {"layouts": verdict.value}
    options = family.shape.ask.options
    return {options.right if options else family.answers[0][1]: verdict.value}
