"""The sheet to sign at a toolbox talk: a lesson's title, its cautions, and lines to sign; as a page and as PDF."""

from __future__ import annotations

from flask import render_template
from werkzeug.wrappers import Response

from trainer.accounts.access import NotFoundError
from trainer.calc.cautions import cautions_for
from trainer.calc.message import Message
from trainer.lessons.model import Lesson
from trainer.web.content import own_library
from trainer.web.navigation import LEADERS
from trainer.web.pages.hours.blueprint import blueprint
from trainer.web.papers.sheet import pdf_file
from trainer.web.papers.sign_in import sign_in_paper
from trainer.web.sessions import actor
from trainer.web.visitors import visitors

__all__ = ["sheet", "sheet_on_paper"]

LINES = 14


@blueprint.get("/lessons/<lesson_id>/sign-in-sheet")
@visitors(*LEADERS)
def sheet(lesson_id: str) -> str:
    """One page to print."""
    lesson = _lesson(lesson_id)
    return render_template("hours/sheet.html", lesson=lesson, cautions=_cautions(lesson), lines=LINES)


@blueprint.get("/lessons/<lesson_id>/sign-in-sheet.pdf")
@visitors(*LEADERS)
def sheet_on_paper(lesson_id: str) -> Response:
    """The same as a file for the printer."""
    lesson = _lesson(lesson_id)
    return pdf_file(sign_in_paper(lesson, _cautions(lesson), LINES, actor()), f"sign-in sheet {lesson.title}")


def _lesson(lesson_id: str) -> Lesson:
    lesson = own_library().lessons.get(lesson_id)
    if lesson is None:
        raise NotFoundError
    return lesson


def _cautions(lesson: Lesson) -> tuple[Message, ...]:
    """The safety lines of a lesson's subjects, each once."""
    every = [caution for area in ("", *lesson.cautions) for caution in cautions_for(area)]
    return tuple(caution for place, caution in enumerate(every) if caution not in every[:place])
