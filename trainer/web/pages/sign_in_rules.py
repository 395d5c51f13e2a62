"""Whom a school or shop asks for a code at sign-in, for its owner."""

from __future__ import annotations

from flask import Blueprint, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from trainer.calc.message import InputError
from trainer.groups.sign_in_rules import ask_for_codes, sign_in_rules
from trainer.web.forms import SHOWN_AGAIN, refusal
from trainer.web.language import gettext
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading, writing
from trainer.web.visitors import Visitor, visitors

__all__ = ["blueprint"]

blueprint = Blueprint("sign_in_rules", __name__)


@blueprint.get("/organisations/<organisation_id>/sign-in")
@visitors(Visitor.OWNER)
def chosen(organisation_id: str) -> str:
    """The roles, and which of them are asked."""
    return _page(organisation_id)


@blueprint.post("/organisations/<organisation_id>/sign-in")
@visitors(Visitor.OWNER)
def choose(organisation_id: str) -> Response | tuple[str, int]:
    """Ask those that are ticked."""
    try:
        with writing() as session:
            ask_for_codes(session, actor(), organisation_id, roles=request.form.getlist("roles"), now=now())
    except InputError as error:
        return _page(organisation_id, refusal(error)), SHOWN_AGAIN
    flash(gettext("It holds from now on, also for those who are signed in."), "done")
    return redirect(url_for("sign_in_rules.chosen", organisation_id=organisation_id), 303)


def _page(organisation_id: str, error: str = "") -> str:
    with reading() as session:
        rules = sign_in_rules(session, actor(), organisation_id)
    return render_template(
        "crew/sign_in_rules.html",
        organisation=rules.organisation,
        roles=rules.roles,
        chosen=rules.asked,
        error=error,
    )
