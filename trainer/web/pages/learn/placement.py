"""The placement run: what do you know already? What it is, begin, next question, end, and the first picture."""

from __future__ import annotations

from flask import redirect, render_template, url_for
from werkzeug.wrappers import Response

from trainer.accounts.access import NotFoundError
from trainer.progress.placement_run import (
    MOST_MINUTES,
    MOST_QUESTIONS,
    begin_placement,
    end_placement,
    next_placement_question,
    start_lesson,
    view_placement,
)
from trainer.web.content import edition_of, own_library
from trainer.web.pages.learn.blueprint import blueprint
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading, writing
from trainer.web.units import unit_title
from trainer.web.visitors import Visitor, visitors

__all__ = ["placement", "placement_begin", "placement_end", "placement_next"]


@blueprint.get("/placement")
@visitors(Visitor.SIGNED_IN)
def placement() -> str:
    """How the run stands, and what came of the last one."""
    with reading() as session:
        view = view_placement(session, actor().person_id)
    start = view.picture.start if view.picture else ""
    return render_template(
        "learn/placement.html",
        view=view,
        questions=MOST_QUESTIONS,
        minutes=MOST_MINUTES,
        title_of=unit_title,
        start=own_library().lessons.get(start_lesson(own_library(), start)),
    )


@blueprint.post("/placement")
@visitors(Visitor.SIGNED_IN)
def placement_begin() -> Response:
    """Begin, and ask the first question."""
    with writing() as session:
        begin_placement(session, actor().person_id, now())
    return placement_next()


@blueprint.post("/placement/next")
@visitors(Visitor.SIGNED_IN)
def placement_next() -> Response:
    """The next question; where the run has ended, the picture."""
    try:
        with writing() as session:
            problem = next_placement_question(
                session, own_library(), actor().person_id, now=now(), edition=edition_of(session)
            )
    except NotFoundError:
        problem = None
    if problem is None:
        return redirect(url_for("learn.placement"), 303)
    return redirect(url_for("learn.problem", problem_id=problem), 303)


@blueprint.post("/placement/end")
@visitors(Visitor.SIGNED_IN)
def placement_end() -> Response:
    """End the run here, with the picture of what was asked."""
    with writing() as session:
        end_placement(session, own_library(), actor().person_id, now())
    return redirect(url_for("learn.placement"), 303)
