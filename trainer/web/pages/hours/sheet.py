"""The sheet to sign at a toolbox talk: a lesson's title, its cautions, and lines to sign, for the printer."""

from __future__ import annotations

from flask import render_template

from trainer.accounts.access import NotFoundError
from trainer.calc.cautions import cautions_for
from trainer.web.content import own_library
from trainer.web.navigation import LEADERS
from trainer.web.pages.hours.blueprint import blueprint
from trainer.web.visitors import visitors

__all__ = ["sheet"]

LINES = 14


@blueprint.get("/lessons/<lesson_id>/sign-in-sheet")
@visitors(*LEADERS)
def sheet(lesson_id: str) -> str:
    """One page to print."""
    lesson = own_library().lessons.get(lesson_id)
    if lesson is None:
        raise NotFoundError
    every = [caution for area in ("", *lesson.cautions) for caution in cautions_for(area)]
    cautions = [caution for place, caution in enumerate(every) if caution not in every[:place]]
    return render_template("hours/sheet.html", lesson=lesson, cautions=cautions, lines=LINES)
