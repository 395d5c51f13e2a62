"""A problem: asked, answered, helped with by hints, given up; and what came of it, read back from the record."""

from __future__ import annotations

from collections.abc import Sequence
from http import HTTPStatus

from flask import redirect, render_template, request, url_for
from flask import session as cookie
from msgspec import Struct
from sqlalchemy.orm import Session
from werkzeug.datastructures import MultiDict
from werkzeug.wrappers import Response

from trainer.calc.cautions import cautions_for
from trainer.calc.message import InputError, Message
from trainer.groups.claims import key_note
from trainer.groups.go_on import go_on
from trainer.groups.way_on import WayOn, way_back
from trainer.problems.model import BenderGroup
from trainer.problems.ordering import in_places
from trainer.progress.hints import WITHOUT_HINTS
from trainer.progress.practice import AnswerResult, AttemptView, Outcome, ProblemPage, answer, hint, show, show_steps
from trainer.progress.watching import nobody_watches
from trainer.text.words import say
from trainer.web.content import library
from trainer.web.forms import SHOWN_AGAIN, refusal
from trainer.web.language import gettext, language
from trainer.web.pages.learn.blueprint import blueprint
from trainer.web.pages.learn.ways import ways_of
from trainer.web.pages.learn.work import OPENED_FROM
from trainer.web.pages.tables import tables_for
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading, writing
from trainer.web.visitors import Visitor, visitors

__all__ = ["Kept", "answers_sent", "problem", "problem_answer", "problem_hint", "problem_next", "problem_steps"]

LESSON, PRACTICE, PROOF = "lesson", "practice", "proof"


class Kept(Struct, frozen=True):
    """
    What a page shows besides the record.

    Args:
        typed: What stands in the answer's field: the text, or the ids of options.
        error: What to look at again, beside the field.
        notice: What became of an answer that was not counted.
    """

    typed: tuple[str, ...] = ()
    error: str = ""
    notice: str = ""


@blueprint.get("/problems/<problem_id>")
@visitors(Visitor.SIGNED_IN)
def problem(problem_id: str) -> str:
    """The question while it is open, with what came of the last try; once it is closed the steps as well."""
    return _page(problem_id, Kept(answers_sent(request.args)))


@blueprint.post("/problems/<problem_id>")
@visitors(Visitor.SIGNED_IN)
def problem_answer(problem_id: str) -> Response | tuple[str, int]:
    """Take an answer. One that is not put on record comes back with the page, and the page says why."""
    typed = in_places(answers_sent(request.form))
    try:
        result = _put_in(problem_id, typed)
    except InputError as error:
        return _page(problem_id, Kept(typed, error=refusal(error))), SHOWN_AGAIN
    if result.outcome is Outcome.UNREADABLE:
        reason = say(result.reason, language()) if result.reason else ""
        said = gettext("Not counted as a try. %(reason)s") % {"reason": reason}
        return _page(problem_id, Kept(typed, error=said)), SHOWN_AGAIN
    if lost := _not_counted(result, typed):
        return _page(problem_id, Kept(typed, notice=lost)), HTTPStatus.CONFLICT
    return redirect(url_for("learn.problem", problem_id=result.problem), 303)


@blueprint.post("/problems/<problem_id>/hint")
@visitors(Visitor.SIGNED_IN)
def problem_hint(problem_id: str) -> Response:
    """Show the hint asked for; what was typed so far goes along."""
    with writing() as session:
        nth = request.form.get("nth", type=int)
        shown = hint(session, library(), actor().person_id, problem_id, nth, now=now())
    typed = [text for text in answers_sent(request.form) if text]
    anchor = f"hint-{shown}" if shown else None
    return redirect(url_for("learn.problem", problem_id=problem_id, answer=typed, _anchor=anchor), 303)


@blueprint.post("/problems/<problem_id>/steps")
@visitors(Visitor.SIGNED_IN)
def problem_steps(problem_id: str) -> Response:
    """Give the problem up and show its steps."""
    with writing() as session:
        show_steps(session, library(), actor().person_id, problem_id, now(), zone=actor().zone)
    return redirect(url_for("learn.problem", problem_id=problem_id), 303)


@blueprint.post("/problems/<problem_id>/next")
@visitors(Visitor.SIGNED_IN)
def problem_next(problem_id: str) -> Response:
    """The next part of a job; a part that was answered, and is still open, is closed by going on."""
    with writing() as session:
        part = go_on(session, library(), actor(), problem_id, now())
    opened, work, position = cookie.get(OPENED_FROM, ("", "", 0))
    if opened == problem_id:
        cookie[OPENED_FROM] = (part, work, position + 1)
    return redirect(url_for("learn.problem", problem_id=part), 303)


def answers_sent(sent: MultiDict[str, str]) -> tuple[str, ...]:
    """What was typed, or the ids of what was chosen; each group of radio buttons sends its own."""
    fields = ("answer", *(f"answer-{group}" for group in BenderGroup))
    return tuple(text for field in fields for text in sent.getlist(field))


def _put_in(problem_id: str, typed: Sequence[str]) -> AnswerResult:
    with writing() as session:
        return answer(
            session,
            library(),
            actor().person_id,
            problem_id,
            typed[0] if len(typed) == 1 else typed,
            answer_key=request.form.get("answer_key", ""),
            now=now(),
            zone=actor().zone,
        )


def _not_counted(result: AnswerResult, typed: Sequence[str]) -> str:
    """What to say of an answer that came too late, or out of a form that had been sent with another one."""
    given = ", ".join(typed)
    if result.outcome is Outcome.CLOSED:
        said = gettext("This problem was closed before your answer came in, so “%(given)s” was not counted.")
        return said % {"given": given}
    if result.outcome is Outcome.UNATTENDED:
        said = gettext("Nobody watches this run now, so “%(given)s” was not taken. It is put again with new numbers.")
        return said % {"given": given}
    if result.outcome is Outcome.REPEATED and result.typed != given:
        said = gettext("This form had been sent before, with “%(before)s”. “%(given)s” was not counted.")
        return said % {"before": result.typed, "given": given}
    return ""


def _page(problem_id: str, kept: Kept) -> str:
    with reading() as session:
        page = show(session, library(), actor().person_id, problem_id, now=now(), language=language())
        place = _place(session, page)
        unattended = page.open and page.context == PROOF and nobody_watches(session, problem_id, now())
        note = key_note(session, actor(), problem_id)
    lesson = library().lessons.get(page.lesson)
    ways = ways_of(page, lesson if page.context == LESSON else None, place)
    return render_template(
        "learn/problem.html",
        page=page,
        kept=kept,
        unattended=unattended,
        note=note,
        ways=ways,
        lesson=lesson,
        before=_last_typed(page),
        without_hints=WITHOUT_HINTS,
        cautions=_cautions(page),
        tables=tables_for(page.skill.split(".")[0]),
    )


def _place(session: Session, page: ProblemPage) -> WayOn | None:
    """Where the problem stands in assigned work: issued for it, or opened from there as practice after the due date."""
    if page.line is not None:
        return way_back(session, library(), actor(), *page.line, now=now())
    opened, work, position = cookie.get(OPENED_FROM, ("", "", 0))
    if page.context != PRACTICE or opened != page.public_id:
        return None
    return way_back(session, library(), actor(), work, position, now=now())


def _last_typed(page: ProblemPage) -> AttemptView | None:
    """The last answer that was typed: where the problem was given up, the one before that."""
    return next((attempt for attempt in reversed(page.attempts) if attempt.typed), None)


def _cautions(page: ProblemPage) -> dict[str, list[Message]]:
    """The cautions of this work, and apart from them those that hold for all work, which nobody reads every time."""
    general = cautions_for("")
    own = [caution for caution in page.cautions if caution not in general]
    return {"own": own, "everywhere": [caution for caution in page.cautions if caution in general]}
