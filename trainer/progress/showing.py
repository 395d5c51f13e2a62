"""The page of a problem, put together from its rows; nothing is written, and shown again it is the same."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime
from functools import cache
from uuid import uuid4

from msgspec.structs import replace
from sqlalchemy import Select, bindparam
from sqlalchemy.orm import Session

from trainer.calc.message import Quantity
from trainer.library.shelf import Library
from trainer.problems.bender import combinations, grouped
from trainer.problems.model import LETTERED, AnswerKind, Problem, Value, Verdict, VerdictKind
from trainer.problems.placing import accepted_places
from trainer.problems.store import message_from_json
from trainer.problems.worked import cautions, drawing, draws_answer, worked
from trainer.progress.called import called
from trainer.progress.effect import GAVE_UP, TELLS_NOTHING
from trainer.progress.evidence import latest_gradings
from trainer.progress.job_view import job_view
from trainer.progress.page import AcceptedAnswer, AttemptView, MistakeView, OptionView, ProblemPage, RefusedOption
from trainer.progress.room import in_the_room
from trainer.progress.sitting import Sitting, sit_down
from trainer.records import models
from trainer.text.markdown import inline_html, to_html

__all__ = ["page_of", "show"]

#: What is its own explanation: steps in order, and the bender on its tube.
WITHOUT_STEPS = frozenset({AnswerKind.ORDER, AnswerKind.BENDER})
#: What is refused option by option; a fault that is none is cleared by the verdict's own reason.
REFUSED_ONE_BY_ONE = frozenset({AnswerKind.CHOICE, AnswerKind.CHOICES})

Judged = tuple[models.Answer, models.Grading]


def show(
    session: Session,
    library: Library,
    person_id: int,
    public_id: str,
    *,
    now: datetime | None = None,
    language: str = "en",
) -> ProblemPage:
    """
    The page of a person's own problem.

    Args:
        session: Any session; nothing is written.
        library: The content.
        person_id: Whose problem it is.
        public_id: The problem.
        now: This moment, for the person's own eyes: key and steps are kept back while work in the room lasts. None for
            who leads it.
        language: In which the core's own words are said.

    Raises:
        NotFoundError: When the person has no such problem.
    """
    sitting = sit_down(session, library, person_id, public_id, language)
    judged = _judged(session, sitting.row.id)
    waits = now is not None and in_the_room(sitting.room_ends, now)
    page = page_of(library, sitting, judged, told=not sitting.open and not waits, language=language)
    return replace(page, job=job_view(session, sitting, language), waits=waits, line=sitting.line)


def page_of(
    library: Library, sitting: Sitting, judged: Sequence[Judged], *, told: bool, language: str = "en"
) -> ProblemPage:
    """
    The page of a problem that stands by itself, from what is at hand: no query is sent.

    Args:
        library: The content.
        sitting: Somebody at a problem.
        judged: The answers so far, each with the grading that counts.
        told: Whether key, steps and reasons are told.
        language: In which the core's own words are said.
    """
    wrong = _last_wrong(sitting.problem, judged)
    row, problem = sitting.row, sitting.problem
    skill = library.skills.get(row.skill)
    return ProblemPage(
        public_id=row.public_id,
        code=row.code,
        context=row.context,
        family_id=row.family_id,
        title=problem.title,
        skill=row.skill,
        skill_title=skill.title if skill else row.skill,
        lesson=problem.lesson,
        level=problem.level,
        later=sitting.family.later,
        edition=row.edition,
        why=message_from_json(row.why) if row.why else None,
        text_html=to_html(problem.text),
        kind=problem.kind,
        unit=problem.unit,
        options=_options(sitting, judged, told=told),
        hints_html=tuple(to_html(hint) for hint in problem.hints[: row.hints_shown]),
        hints_left=len(problem.hints) - row.hints_shown,
        attempts=tuple(_attempt(problem, answer, grading) for answer, grading in judged),
        answer_key=str(uuid4()),
        open=sitting.open,
        steps_shown=row.steps_shown,
        figure=_figure(sitting, judged, wrong, language, told=told),
        answer_drawn=wrong is not None and draws_answer(sitting.family, wrong),
        steps=tuple(worked(sitting.family, problem)) if told and problem.kind not in WITHOUT_STEPS else (),
        accepted=tuple(_accepted(problem)) if told else (),
        accepted_places=tuple(accepted_places(problem)) if told else (),
        cautions=cautions(sitting.family),
        sources=problem.sources,
        combinations=combinations(problem) if told else (),
    )


def _judged(session: Session, problem_id: int) -> list[Judged]:
    """The answers to a problem with the grading that counts, in their order."""
    found = session.execute(_gradings_of_problem(), {"problem_id": problem_id})
    return [(answer, grading) for answer, grading in found]


@cache
def _gradings_of_problem() -> Select[models.Answer, models.Grading]:
    """Built once, for each page of a problem asks."""
    of_problem = latest_gradings().where(models.Answer.problem_id == bindparam("problem_id"))
    return of_problem.with_only_columns(models.Answer, models.Grading).order_by(models.Answer.attempt)


def _options(sitting: Sitting, judged: Sequence[Judged], *, told: bool) -> tuple[OptionView, ...]:
    chosen = _chosen(judged[-1][0]) if judged else frozenset()
    right = _right_options(sitting.problem, chosen) if told else None
    return tuple(
        OptionView(
            id=option.id,
            letter=chr(ord("a") + place),
            html=inline_html(option.text),
            chosen=option.id in chosen,
            right=None if right is None else option.id in right,
            why_html="" if right is None else to_html(option.why),
            place=_place(option.id, judged[-1][0].value_read if judged else None),
            belongs=0 if right is None else _place(option.id, sitting.problem.keys[0].value),
            **grouped(sitting.problem, option.id),
        )
        for place, option in enumerate(sitting.problem.options)
    )


def _place(option: str, order: object) -> int:
    """The place of a step in an order, from 1; 0 where it stands in none."""
    return list(order).index(option) + 1 if isinstance(order, list | tuple) and option in order else 0


def _chosen(answer: models.Answer) -> frozenset[str]:
    """The options that an answer chose."""
    value = answer.value_read
    return frozenset([value] if isinstance(value, str) else value if isinstance(value, list) else [])


def _right_options(problem: Problem, chosen: frozenset[str]) -> frozenset[str]:
    """The options that are an answer; of several sets of places the one that was chosen, or the first."""
    ids: set[str] = set()
    keys = list(problem.keys)
    if problem.kind is AnswerKind.PLACES:
        keys = [key for key in keys if isinstance(key.value, tuple) and frozenset(key.value) == chosen] or keys
        keys = keys[:1]
    for key in keys:
        ids |= {key.value} if isinstance(key.value, str) else set(key.value) if isinstance(key.value, tuple) else set()
    return frozenset(ids)


def _attempt(problem: Problem, answer: models.Answer, grading: models.Grading) -> AttemptView:
    return AttemptView(
        nth=answer.attempt,
        typed=answer.typed,
        verdict=grading.verdict,
        mistakes=tuple(_mistake(problem, mistake, answer.value_read) for mistake in grading.mistakes),
        reason=message_from_json(grading.reason) if grading.reason else None,
        basis=grading.basis,
        hints=answer.hints_seen,
        answered_at=answer.answered_at,
        refused=_refused(problem, answer, grading),
    )


def _refused(problem: Problem, answer: models.Answer, grading: models.Grading) -> tuple[RefusedOption, ...]:
    """Reasons against what was chosen and doesn't belong; what was left out is not told, it may still be found."""
    if problem.kind not in REFUSED_ONE_BY_ONE:
        return ()
    chosen = _chosen(answer)
    told = {mistake.value for mistake in problem.mistakes if mistake.id in grading.mistakes}
    wrong = chosen - _right_options(problem, chosen) - told
    return tuple(
        RefusedOption(inline_html(option.text), inline_html(option.why.strip()))
        for option in problem.options
        if option.id in wrong
    )


def _mistake(problem: Problem, mistake: str, value: object) -> MistakeView:
    """A known mistake in words; where it leads to several values, the words for the one that was given."""
    route = problem.route_taken(mistake, value)
    return MistakeView(mistake, called(mistake), to_html(route.say) if route else "")


def _last_wrong(problem: Problem, judged: Sequence[Judged]) -> Verdict | None:
    """The last answer that is drawn in beside the right one; None without."""
    #: Places that are right are drawn too: another set than the first may be.
    without = {GAVE_UP, *TELLS_NOTHING} | (set() if problem.kind is AnswerKind.PLACES else {VerdictKind.RIGHT})
    wrong = [
        Verdict(VerdictKind(grading.verdict), _value(answer), tuple(grading.mistakes))
        for answer, grading in judged
        if grading.verdict not in without and answer.value_read is not None
    ]
    return wrong[-1] if wrong else None


def _figure(sitting: Sitting, judged: Sequence[Judged], wrong: Verdict | None, language: str, *, told: bool) -> str:
    """The drawing with the last wrong value in it; the answer is shown once it is told."""
    problem = sitting.problem
    links = field_ids(problem) if sitting.open and problem.kind in LETTERED else {}
    return drawing(
        sitting.family,
        problem,
        wrong,
        solved=told,
        language=language,
        links=links,
        earlier=problem.kind is not AnswerKind.PLACES and bool(judged) and judged[-1][1].verdict == VerdictKind.RIGHT,
    )


def field_ids(problem: Problem) -> dict[str, str]:
    """Where each option's box or button stands on the page of a problem, as components/forms.html names them."""
    return {option.id: f"#answer-{nth}" if nth > 1 else "#answer" for nth, option in enumerate(problem.options, 1)}


def _value(answer: models.Answer) -> Value | None:
    """The value as read; lists are how JSON keeps several options."""
    value: Value | None = answer.value_read
    return tuple(value) if isinstance(value, list) else value


def _accepted(problem: Problem) -> Iterable[AcceptedAnswer]:
    for key in problem.keys:
        if isinstance(key.value, int | float):
            yield AcceptedAnswer(Quantity(key.value, problem.unit), key.basis)
