"""Where one is signed in, and ending it there."""

from __future__ import annotations

from flask import Blueprint, flash, redirect, render_template, url_for
from werkzeug.wrappers import Response

from trainer.accounts.sessions import list_sessions, revoke
from trainer.web.devices import browser_in_words
from trainer.web.language import gettext
from trainer.web.sessions import actor, sign_in_life, token
from trainer.web.transactions import now, reading, writing
from trainer.web.visitors import Visitor, visitors

__all__ = ["blueprint"]

blueprint = Blueprint("devices", __name__)


@blueprint.get("/account/devices")
@visitors(Visitor.SIGNED_IN)
def listed() -> str:
    """The browsers that are signed in as this person."""
    with reading() as session:
        lines = list_sessions(session, actor().person_id, now(), token(), life=sign_in_life())
    return render_template("account/devices.html", lines=lines, life=sign_in_life(), browser=browser_in_words)


@blueprint.post("/account/devices/<session_id>/sign-out")
@visitors(Visitor.SIGNED_IN)
def sign_out(session_id: str) -> Response:
    """End one of the own sessions; one that is over, or somebody else's, stays as it is."""
    with writing() as session:
        revoke(session, actor().person_id, session_id, now())
    flash(gettext("That browser is signed out."), "done")
    return redirect(url_for("devices.listed"), 303)
