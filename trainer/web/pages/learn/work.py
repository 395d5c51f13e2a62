"""Assigned work: the list, one piece of work with its lines, and a line's problem."""

from __future__ import annotations

from flask import redirect, render_template, request, url_for
from flask import session as cookie
from werkzeug.wrappers import Response

from trainer.groups.learner_work import learner_work, work_of_learner
from trainer.groups.marks import own_points
from trainer.groups.open_line import open_line
from trainer.groups.points import points_rule
from trainer.groups.way_on import next_line
from trainer.web.content import library
from trainer.web.kinds import KIND_WORDS, rule_of
from trainer.web.pages.learn.blueprint import blueprint
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading, writing
from trainer.web.visitors import Visitor, visitors

__all__ = ["OPENED_FROM", "work", "work_one", "work_open"]

OPENED_FROM = "opened-from"
"""Where the cookie keeps the problem that was opened last from a line, its work and the line."""


@blueprint.get("/work")
@visitors(Visitor.SIGNED_IN)
def work() -> str:
    """All work that was assigned to one's classes and crews."""
    with reading() as session:
        works = work_of_learner(session, library(), actor(), now())
    return render_template("learn/work.html", works=works, learns=bool(actor().learns_in))


@blueprint.get("/work/<work_id>")
@visitors(Visitor.SIGNED_IN)
def work_one(work_id: str) -> str:
    """One piece of work: its lines, and which comes next."""
    with reading() as session:
        found = learner_work(session, library(), actor(), work_id, now())
        own = own_points(session, library(), actor(), work_id)
    return render_template(
        "learn/work_one.html",
        work=found,
        kind_words=KIND_WORDS[found.kind],
        rule=rule_of(found.kind),
        following=next_line(found),
        points=own.points,
        points_rule=points_rule(own.kind),
    )


@blueprint.post("/work/<work_id>/<int(max=999):position>")
@visitors(Visitor.SIGNED_IN)
def work_open(work_id: str, position: int) -> Response:
    """The problem of a line: the one that one was at, or with `new` in the form one with new numbers."""
    with writing() as session:
        problem = open_line(
            session, library(), actor(), work_id, position, now=now(), new_numbers="new" in request.form
        )
    # After the due date the problem is plain practice, and knows nothing of the line that it was opened from.
    cookie[OPENED_FROM] = (problem, work_id, position)
    return redirect(url_for("learn.problem", problem_id=problem), 303)
