"""The local rules of a school or shop, for its owner."""

from __future__ import annotations

from flask import Blueprint, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from trainer.calc.message import InputError
from trainer.groups.local_rules import follow, followed
from trainer.web.content import library
from trainer.web.forms import SHOWN_AGAIN, refusal
from trainer.web.language import gettext
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading, writing
from trainer.web.visitors import Visitor, visitors

__all__ = ["blueprint"]

blueprint = Blueprint("local_rules", __name__)


@blueprint.get("/organisations/<organisation_id>/rules")
@visitors(Visitor.OWNER)
def chosen(organisation_id: str) -> str:
    """The rules there are, and which of them hold here."""
    return _page(organisation_id)


@blueprint.post("/organisations/<organisation_id>/rules")
@visitors(Visitor.OWNER)
def choose(organisation_id: str) -> Response | tuple[str, int]:
    """Follow those that are ticked."""
    try:
        with writing() as session:
            rules = request.form.getlist("rules")
            follow(session, library(), actor(), organisation_id, rules=rules, now=now())
    except InputError as error:
        return _page(organisation_id, refusal(error)), SHOWN_AGAIN
    flash(gettext("It holds from the next problem on. Work that was given before stays as it was given."), "done")
    return redirect(url_for("local_rules.chosen", organisation_id=organisation_id), 303)


def _page(organisation_id: str, error: str = "") -> str:
    with reading() as session:
        organisation = followed(session, actor(), organisation_id)
    return render_template(
        "crew/rules.html", organisation=organisation, rules=library().local_rules.values(), error=error
    )
