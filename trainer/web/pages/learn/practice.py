"""Practice: what the program would take next and why, or a skill of one's own choice."""

from __future__ import annotations

from flask import redirect, render_template, request, url_for
from sqlalchemy.orm import Session
from werkzeug.wrappers import Response

from trainer.accounts.access import own_problem
from trainer.progress.practice import issue
from trainer.progress.today import Kind, Thing, Today, today
from trainer.web.content import edition_of, library, own_library
from trainer.web.pages.learn.blueprint import blueprint
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading, writing
from trainer.web.units import by_unit
from trainer.web.visitors import Visitor, visitors

__all__ = ["practice", "practice_issue"]

PRACTICE = "practice"


@blueprint.get("/practice")
@visitors(Visitor.SIGNED_IN)
def practice() -> str:
    """What comes next and why; or choose a skill."""
    with reading() as session:
        found = today(session, library(), actor().person_id, now())
        still_open = _still_open(session, found)
    skills = library().skills.values()
    practised = [skill for skill in skills if library().asks(skill.id)]
    return render_template(
        "learn/practice.html",
        still_open=still_open,
        job=_first(found, Kind.JOB),
        choice=_first(found, Kind.PRACTICE),
        units=by_unit(practised),
        later={skill.id for skill in practised if library().is_later(skill.id)},
        missing=by_unit(skill for skill in skills if skill not in practised),
    )


@blueprint.post("/practice")
@visitors(Visitor.SIGNED_IN)
def practice_issue() -> Response:
    """Issue a problem of the family or the skill asked for, or of the program's choice; or go on with the open one."""
    with writing() as session:
        problem = issue(
            session,
            own_library(),
            actor().person_id,
            skill=request.form.get("skill") or None,
            family_id=request.form.get("family") or None,
            now=now(),
            edition=edition_of(session),
        )
    return redirect(url_for("learn.problem", problem_id=problem), 303)


def _still_open(session: Session, found: Today) -> Thing | None:
    """The problem of practice that was left open: the program chooses no further one before that is done."""
    for thing in _things(found):
        if (
            thing.kind is Kind.GO_ON
            and thing.problem
            and own_problem(session, actor(), thing.problem).context == PRACTICE
        ):
            return thing
    return None


def _first(found: Today, kind: Kind) -> Thing | None:
    return next((thing for thing in _things(found) if thing.kind is kind), None)


def _things(found: Today) -> list[Thing]:
    return [found.first, *found.others] if found.first else []
