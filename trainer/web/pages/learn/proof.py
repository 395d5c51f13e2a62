"""The proof run of a skill: what it is, how it stands, begin, next question, stop."""

from __future__ import annotations

from flask import flash, redirect, render_template, url_for
from werkzeug.wrappers import Response

from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.calc.message import Message
from trainer.groups.asked import asked_for
from trainer.progress.points import LINES, Rule
from trainer.progress.proof import ACROSS_DAYS, MOST_A_DAY, view_proof
from trainer.progress.proof_run import abandon, begin, next_question
from trainer.text.words import say
from trainer.web.content import edition_of, own_library
from trainer.web.language import gettext, language
from trainer.web.pages.learn.blueprint import blueprint
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading, writing
from trainer.web.visitors import Visitor, visitors

__all__ = ["proof", "proof_begin", "proof_next", "proof_stop"]


@blueprint.get("/record/<skill>/proof")
@visitors(Visitor.SIGNED_IN)
def proof(skill: str) -> str:
    """How the run stands, in plain words."""
    _check(skill)
    me = actor()
    with reading() as session:
        asked = asked_for(session, me.person_id, skill)
        view = view_proof(
            session,
            own_library(),
            me.person_id,
            skill,
            now=now(),
            zone=me.zone,
            line=asked.line,
            valid=asked.valid,
        )
    return render_template(
        "learn/proof.html",
        skill=own_library().skills[skill],
        view=view,
        asked=asked,
        zone=me.zone.key,
        most_a_day=MOST_A_DAY,
        across=ACROSS_DAYS,
        typical=Rule(view.line, view.ready_at).points(0.0),
        terms=LINES[view.line],
    )


@blueprint.post("/record/<skill>/proof")
@visitors(Visitor.SIGNED_IN)
def proof_begin(skill: str) -> Response:
    """Begin the run, and ask its first question."""
    _check(skill)
    try:
        with writing() as session:
            me = actor()
            asked = asked_for(session, me.person_id, skill)
            begin(
                session,
                own_library(),
                me.person_id,
                skill,
                now=now(),
                zone=me.zone,
                line=asked.line,
                valid=asked.valid,
            )
    except NotAllowedError as refused:
        return _back(skill, refused)
    return proof_next(skill)


@blueprint.post("/record/<skill>/proof/next")
@visitors(Visitor.SIGNED_IN)
def proof_next(skill: str) -> Response:
    """The next question of the run; where it is decided, or enough for today, back to how it stands."""
    _check(skill)
    try:
        with writing() as session:
            problem = next_question(
                session,
                own_library(),
                actor().person_id,
                skill,
                now=now(),
                zone=actor().zone,
                edition=edition_of(session),
            )
    except NotAllowedError as refused:
        return _back(skill, refused)
    except NotFoundError:
        return redirect(url_for("learn.proof", skill=skill), 303)
    if problem is None:
        return _back(skill, NotAllowedError(Message("proof.nobody-watches")))
    return redirect(url_for("learn.problem", problem_id=problem), 303)


@blueprint.post("/record/<skill>/proof/stop")
@visitors(Visitor.SIGNED_IN)
def proof_stop(skill: str) -> Response:
    """End the run."""
    _check(skill)
    with writing() as session:
        abandon(session, actor().person_id, skill, now())
    flash(gettext("The run is ended."), "done")
    return redirect(url_for("learn.proof", skill=skill), 303)


def _back(skill: str, refused: NotAllowedError) -> Response:
    said = say(refused.reason, language())
    flash(f"{said[:1].upper()}{said[1:]}".rstrip(".") + ".", "problem")
    return redirect(url_for("learn.proof", skill=skill), 303)


def _check(skill: str) -> None:
    if not own_library().asks(skill):
        raise NotFoundError
