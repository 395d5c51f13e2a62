"""A learner says that a key is wrong: the problem and his own working go to whoever leads him."""

from __future__ import annotations

from flask import flash, redirect, render_template, url_for
from werkzeug.wrappers import Response
from wtforms import StringField

from trainer.calc.message import InputError
from trainer.groups.claims import claim, key_note
from trainer.progress.practice import show
from trainer.web.content import library
from trainer.web.forms import SHOWN_AGAIN, Filled, SiteForm
from trainer.web.language import Later, gettext, language
from trainer.web.pages.learn.blueprint import blueprint
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading, writing
from trainer.web.visitors import Visitor, visitors

__all__ = ["problem_key", "send_problem_key"]


class ClaimForm(SiteForm):
    """What was worked out, and why."""

    own_answer = StringField(validators=[Filled(Later("Type the answer that you worked out, for example 12 in."))])
    why = StringField(validators=[Filled(Later("Write in a line or two how you come to it."))])


@blueprint.get("/problems/<problem_id>/key")
@visitors(Visitor.SIGNED_IN)
def problem_key(problem_id: str) -> str:
    """The short form, or what was sent in."""
    return _page(problem_id, ClaimForm(formdata=None))


@blueprint.post("/problems/<problem_id>/key")
@visitors(Visitor.SIGNED_IN)
def send_problem_key(problem_id: str) -> Response | tuple[str, int]:
    """Send it in."""
    form = ClaimForm()
    if form.validate_on_submit() and _sent(problem_id, form):
        flash(gettext("Sent in. You read the answer here and on the page Today."), "done")
        return redirect(url_for("learn.problem", problem_id=problem_id), 303)
    return _page(problem_id, form), SHOWN_AGAIN


def _sent(problem_id: str, form: ClaimForm) -> bool:
    try:
        with writing() as session:
            words = {"own_answer": form.own_answer.data, "why": form.why.data}
            claim(session, actor(), problem_id, **words, now=now())
    except InputError as error:
        form.refuse_input(error)
        return False
    return True


def _page(problem_id: str, form: ClaimForm) -> str:
    with reading() as session:
        page = show(session, library(), actor().person_id, problem_id, language=language(), now=now())
        note = key_note(session, actor(), problem_id)
    return render_template("learn/claim.html", page=page, note=note, form=form)
