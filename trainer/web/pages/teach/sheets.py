"""Assigned work on paper: who has a sheet, the sheets of all learners, and the answers for who corrects by hand."""

from __future__ import annotations

from flask import flash, redirect, render_template, url_for
from werkzeug.wrappers import Response

from trainer.calc.message import InputError
from trainer.groups.sheets import WorkSheets, make_sheets, work_sheets
from trainer.problems.codes import spoken_code
from trainer.web.content import library
from trainer.web.forms import refusal
from trainer.web.language import gettext, ngettext
from trainer.web.pages.teach.blueprint import LEADERS, blueprint
from trainer.web.papers.sheet import pdf_file
from trainer.web.papers.worksheets import answers_paper, sheets_paper
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading, writing
from trainer.web.visitors import visitors

__all__ = ["answers_on_paper", "make_work_sheets", "sheets", "sheets_on_paper"]


@blueprint.get("/given/<work_id>/sheets")
@visitors(*LEADERS)
def sheets(work_id: str) -> str:
    """Who has a sheet and who has none yet."""
    found = _found(work_id)
    return render_template(
        "teach/sheets.html", work=found.work, group=found.work.group, found=found, spoken_code=spoken_code
    )


@blueprint.post("/given/<work_id>/sheets")
@visitors(*LEADERS)
def make_work_sheets(work_id: str) -> Response:
    """Make sheets for those who have none."""
    try:
        with writing() as session:
            made = make_sheets(session, library(), actor(), work_id, now())
    except InputError as error:
        flash(refusal(error), "problem")
    else:
        said = ngettext("One question more is on paper.", "%(num)d questions more are on paper.", made) % {"num": made}
        flash(said if made else gettext("Everybody has a sheet already."), "done")
    return redirect(url_for("teach.sheets", work_id=work_id), 303)


@blueprint.get("/given/<work_id>/sheets.pdf")
@visitors(*LEADERS)
def sheets_on_paper(work_id: str) -> Response:
    """All sheets in one file, each learner's beginning a page."""
    found = _found(work_id)
    if not found.sheets:
        return redirect(url_for("teach.sheets", work_id=work_id), 303)
    return pdf_file(sheets_paper(found, actor()), gettext("sheets %(work)s") % {"work": found.work.title})


@blueprint.get("/given/<work_id>/answers.pdf")
@visitors(*LEADERS)
def answers_on_paper(work_id: str) -> Response:
    """The answers by the code of the sheet, apart from the sheets."""
    found = _found(work_id)
    if not found.sheets:
        return redirect(url_for("teach.sheets", work_id=work_id), 303)
    return pdf_file(answers_paper(found, actor()), gettext("answers %(work)s") % {"work": found.work.title})


def _found(work_id: str) -> WorkSheets:
    with reading() as session:
        return work_sheets(session, library(), actor(), work_id)
