"""
A family tried out: drawn many times, every key and every known mistake typed as people would, every drawing drawn.

What is found is an error of its file, with the line to look at: a draw that finds no fit, a key that is not judged right,
a mistake that is not named or never happens, prose that cannot be filled in, a drawing or a step that fails.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator

from trainer.calc.length import write_length
from trainer.problems.bender import combinations, slipped
from trainer.problems.check import check
from trainer.problems.draw import draw
from trainer.problems.errors import ContentError, DrawError
from trainer.problems.job_trial import CarriedWrong
from trainer.problems.model import CHOOSING, AnswerKind, Problem, Value, Verdict, VerdictKind
from trainer.problems.ordering import with_before
from trainer.problems.parts import Family
from trainer.problems.placing import example_of
from trainer.problems.worked import drawing, worked
from trainer.text.template import TemplateError
from trainer.text.words import say

__all__ = ["as_typed", "trial"]

#: Problems of which the drawing is drawn and the steps are said; it takes longer than all the rest.
DRAWINGS = 10
#: Different problems that a family offers at least.
FEWEST_DIFFERENT = 12


def trial(family: Family, draws: int) -> list[ContentError]:
    """
    What is wrong with a family, each finding once.

    Args:
        family: The family.
        draws: How many problems to draw, with the seeds from 0.
    """
    findings: dict[tuple[str, str], ContentError] = {}
    for finding in _findings(family, draws):
        findings.setdefault((finding.key, finding.accepted), finding)
    return list(findings.values())


def as_typed(problem: Problem, value: Value) -> list[str]:
    """
    An answer as a careful person types it: a length as the tape reads, to the sixteenth and, where it is near enough, to
    the eighth; other numbers with three decimals; options by their ids; of two steps the wrong way round the whole order, of a
    choice that is wrong the whole combination; of what places show a set that shows it.
    """
    if problem.kind is AnswerKind.ORDER and isinstance(value, tuple) and len(value) < len(problem.options):
        right = next(key.value for key in problem.keys if isinstance(key.value, tuple))
        return [", ".join(with_before(right, *value))]
    if problem.kind is AnswerKind.BENDER and isinstance(value, tuple):
        ways_that_count = combinations(problem)
        return [", ".join(value if value in ways_that_count else slipped(ways_that_count, value) or value)]
    if isinstance(value, tuple):
        return [", ".join(value)]
    if isinstance(value, str):
        return [", ".join(example_of(problem, value)) if problem.run else value]
    if problem.kind is not AnswerKind.LENGTH:
        return [f"{value:.3f}"]
    readings = [write_length(value)]
    if problem.tolerance >= 1 / 16:
        readings.append(write_length(value, denominator=8))
    return readings


def _findings(family: Family, draws: int) -> Iterator[ContentError]:
    seen: Counter[str] = Counter()
    sides: dict[str, set[bool]] = defaultdict(set)
    different = set()
    carried = CarriedWrong(family)
    for seed in range(draws):
        try:
            problem = draw(family, seed)
        except DrawError as error:
            yield _finding(family, ("draw",), str(error), "numbers that fit within 200 tries")
            return
        except TemplateError as error:
            yield _finding(family, ("ask", "text"), f"{error.given} with seed {seed}", error.accepted)
            return
        different.add((problem.text, tuple(sorted((option.id, option.text) for option in problem.options))))
        seen.update({mistake.id for mistake in problem.mistakes})
        yield from _ambiguous(family, problem)
        carried.take(problem)
        for mistake in problem.mistakes:
            sides[mistake.id].add(_is_right(problem, mistake.value))
        if seed < DRAWINGS:
            yield from _undrawable(family, problem)
    for path, given, accepted in carried.findings():
        yield _finding(family, path, given, accepted)
    yield from _never(family, seen)
    yield from _two_sided(family, sides)
    if len(different) < min(FEWEST_DIFFERENT, draws):
        yield _finding(family, ("draw",), f"{len(different)} different problems", f"{FEWEST_DIFFERENT} or more")


def _ambiguous(family: Family, problem: Problem) -> Iterator[ContentError]:
    """A key that is not right as people type it, or a known mistake that is not named."""
    for key in problem.keys:
        for text in as_typed(problem, key.value):
            verdict = check(problem, text)
            if verdict.kind is not VerdictKind.RIGHT:
                yield _finding(family, ("ask",), _told(problem, text, verdict), "a key that is judged right")
    if family.kind in CHOOSING - {AnswerKind.ORDER, AnswerKind.BENDER, AnswerKind.PLACES}:
        return
    for at, mistake in _places(family, problem):
        for text in as_typed(problem, mistake)[:1]:
            verdict = check(problem, text)
            if family.mistakes[at].id not in verdict.mistakes:
                told = _told(problem, text, verdict)
                yield _finding(family, ("mistakes", at), told, "a known mistake that is named when it is typed")


def _places(family: Family, problem: Problem) -> Iterator[tuple[int, Value]]:
    """Which mistake of the family each value belongs to."""
    places = {mistake.id: at for at, mistake in enumerate(family.mistakes)}
    return ((places[mistake.id], mistake.value) for mistake in problem.mistakes)


def _is_right(problem: Problem, value: Value) -> bool:
    """Whether the option that a mistake is about belongs to the key."""
    return any(value in key.value for key in problem.keys if isinstance(key.value, tuple))


def _undrawable(family: Family, problem: Problem) -> Iterator[ContentError]:
    """A drawing or a step that fails or shows nothing."""
    at_seed = f"with seed {problem.seed}"
    try:
        steps = worked(family, problem)
        for note in filter(None, (step.note for step in steps)):
            say(note)
        drawing(family, problem)
        blank = (family.figure or family.bender) and not all(
            drawing(family, problem, verdict, solved=True) for verdict in _to_draw(problem)
        )
    except Exception as error:  # noqa: BLE001 - whatever fails, the author is told where
        yield _finding(family, ("figure",), f"{type(error).__name__}: {error} {at_seed}", "numbers that can be drawn")
        return
    if not steps:
        yield _finding(family, ("calculation",), f"no steps {at_seed}", "a calculation that says its steps")
    if blank:
        yield _finding(family, ("figure",), f"nothing drawn {at_seed}", "numbers that can be drawn")


def _to_draw(problem: Problem) -> list[Verdict | None]:
    """No answer, and each known mistake."""
    return [None, *(check(problem, as_typed(problem, mistake.value)[0]) for mistake in problem.mistakes)]


def _never(family: Family, seen: Counter[str]) -> Iterator[ContentError]:
    for at, mistake in enumerate(family.mistakes):
        if not seen[mistake.id]:
            yield _finding(family, ("mistakes", at), f"{mistake.id} never happens", "a mistake that the numbers allow")


def _two_sided(family: Family, sides: dict[str, set[bool]]) -> Iterator[ContentError]:
    """A mistake about an option says either that it was chosen or that it was left out; it can't say both."""
    for at, mistake in enumerate(family.mistakes):
        if len(sides[mistake.id]) > 1:
            given = f"{mistake.option} is sometimes right and sometimes wrong"
            yield _finding(family, ("mistakes", at, "option"), given, "`when` or `where`, so that it is one of them")


def _told(problem: Problem, text: str, verdict: Verdict) -> str:
    return f"{text!r} is judged {verdict.kind.value} with seed {problem.seed}"


def _finding(family: Family, path: Iterable[str | int], given: str, accepted: str) -> ContentError:
    path = tuple(path)
    return ContentError(family.file, family.line(*path), ".".join(map(str, path)), given, accepted)
