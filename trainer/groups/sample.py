"""A problem of a family as a leader sees it before giving it out: with its key, the steps, and every known mistake."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct

from trainer.accounts.access import NotFoundError
from trainer.calc.message import Message, Quantity
from trainer.calc.step import Step
from trainer.library.shelf import Library
from trainer.problems.bender import combinations, grouped
from trainer.problems.draw import draw
from trainer.problems.family import Family
from trainer.problems.model import AnswerKind, MistakeValue, Problem, Value
from trainer.problems.placing import accepted_places
from trainer.problems.trial import as_typed
from trainer.problems.worked import cautions, drawing, worked
from trainer.progress.called import called
from trainer.progress.page import AcceptedAnswer, MistakeView, OptionView
from trainer.text.formats import quantity
from trainer.text.markdown import inline_html, to_html

__all__ = ["Sample", "SampleMistake", "sample"]


class SampleMistake(Struct, frozen=True):
    """
    A known mistake, and what it leads to with these numbers.

    Args:
        mistake: What it is called, and what is said of it.
        value: The number that it leads to; None where one chooses.
        option_html: The option that is judged wrongly, the choices that are wrong, or the step that was done too early.
        before_html: Of steps in order: the step that should have come first; "" else.
    """

    mistake: MistakeView
    value: Quantity | None
    option_html: str
    before_html: str = ""


class Sample(Struct, frozen=True):
    """
    One problem of a family, seen from behind.

    Args:
        family: The family.
        text_html: The question.
        options: What can be chosen, with why it is or isn't an answer.
        accepted: The accepted numbers; empty for choices.
        accepted_places: The accepted sets of places by their letters; empty for all else.
        steps: The worked steps in these numbers.
        figure: The drawing with the answer in it (SVG); "" for none.
        mistakes: What goes wrong, and what is said about it.
        hints_html: The hints, in the order in which they are offered.
        cautions: What can hurt in this work.
        combinations: Of the bender on its tube: every right combination, as ids of options.
    """

    family: Family
    text_html: str
    options: tuple[OptionView, ...]
    accepted: tuple[AcceptedAnswer, ...]
    accepted_places: tuple[str, ...]
    steps: tuple[Step, ...]
    figure: str
    mistakes: tuple[SampleMistake, ...]
    hints_html: tuple[str, ...]
    cautions: tuple[Message, ...]
    combinations: tuple[tuple[str, ...], ...] = ()


def sample(library: Library, family_id: str, seed: int, *, edition: str, language: str = "en") -> Sample:
    """
    A problem of a family; nothing is issued.

    Args:
        library: The content.
        family_id: The family; of a job the first part.
        seed: Another one gives other numbers.
        edition: Edition of the rules.
        language: In which the core's own words are said.

    Raises:
        NotFoundError: When there is no such family.
    """
    job = library.jobs.get(family_id)
    family = library.families.get(job.parts[0].id if job else family_id)
    if family is None:
        raise NotFoundError
    problem = draw(family, seed, edition=edition, language=language)
    return Sample(
        family,
        to_html(problem.text),
        tuple(_options(problem)),
        tuple(_accepted(problem)),
        tuple(accepted_places(problem)),
        () if problem.kind in {AnswerKind.ORDER, AnswerKind.BENDER} else tuple(worked(family, problem)),
        drawing(family, problem, solved=True, language=language),
        tuple(_mistakes(problem, family)),
        tuple(to_html(hint) for hint in problem.hints),
        cautions(family),
        combinations(problem),
    )


def _options(problem: Problem) -> Iterable[OptionView]:
    keys = problem.keys[:1] if problem.kind is AnswerKind.PLACES else problem.keys
    right = {one for key in keys for one in _ids(key.value)}
    shown = list(problem.options)
    ordering = problem.kind is AnswerKind.ORDER
    if ordering:
        shown.sort(key=lambda option: _ids(problem.keys[0].value).index(option.id))
    for place, option in enumerate(shown):
        letter, belongs = chr(ord("a") + place), option.id in right
        words = inline_html(option.text), belongs, belongs, to_html(option.why)
        yield OptionView(option.id, letter, *words, belongs=place + 1 if ordering else 0, **grouped(problem, option.id))


def _ids(value: Value) -> tuple[str, ...]:
    return value if isinstance(value, tuple) else (value,) if isinstance(value, str) else ()


def _accepted(problem: Problem) -> Iterable[AcceptedAnswer]:
    for key in problem.keys:
        if isinstance(key.value, int | float):
            yield AcceptedAnswer(Quantity(key.value, problem.unit), key.basis)


def _each_once(problem: Problem) -> Iterable[MistakeValue]:
    """The known mistakes, without those that two conventions bring to the same sixteenth."""
    seen: set[tuple[str, str]] = set()
    for route in problem.mistakes:
        shown = (
            route.id,
            quantity(Quantity(route.value, problem.unit)) if isinstance(route.value, int | float) else "",
        )
        if not shown[1] or shown not in seen:
            yield route
        seen.add(shown)


def _mistakes(problem: Problem, family: Family) -> Iterable[SampleMistake]:
    texts = {option.id: inline_html(option.text) for option in problem.options}
    for route in _each_once(problem):
        value = Quantity(route.value, problem.unit) if isinstance(route.value, int | float) else None
        view = MistakeView(route.id, called(route.id, family), to_html(route.say))
        about = [texts.get(one, "") for one in _ids(route.value)]
        if problem.kind is AnswerKind.ORDER:
            yield SampleMistake(view, value, about[0], about[1])
        elif problem.kind is AnswerKind.PLACES:
            yield SampleMistake(view, value, as_typed(problem, route.value)[0].upper())
        else:
            yield SampleMistake(view, value, "; ".join(about))
