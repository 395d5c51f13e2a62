"""The question report: which questions to look at, and what the answers say about each."""

from __future__ import annotations

from flask import render_template

from trainer.groups.question_reports import question_report, question_reports, sheet_reports
from trainer.web.content import library
from trainer.web.pages.teach.blueprint import blueprint
from trainer.web.pages.teach.keys import DESKS, leads
from trainer.web.sessions import actor
from trainer.web.transactions import reading
from trainer.web.visitors import visitors

__all__ = ["question", "questions"]


@blueprint.get("/questions")
@visitors(*DESKS)
def questions() -> str:
    """All questions with answers, those to look at first."""
    with reading() as session:
        reports = question_reports(session, library(), actor())
        sheets = sheet_reports(session, actor())
    return render_template("keys/questions.html", reports=reports, sheets=sheets, leads=leads())


@blueprint.get("/questions/<rules>")
@visitors(*DESKS)
def question(rules: str) -> str:
    """One question, statistic by statistic."""
    with reading() as session:
        report = question_report(session, library(), actor(), rules)
    return render_template("keys/question.html", report=report, skills=library().skills)
