"""Who may sign hands-on checks in a school or shop, for its owner."""

from __future__ import annotations

from flask import flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from trainer.calc.message import InputError
from trainer.groups.signers import end_naming, name_signer, signers_of
from trainer.problems.hands_on import KINDS
from trainer.web.forms import SHOWN_AGAIN, refusal
from trainer.web.language import gettext
from trainer.web.pages.hands_on.blueprint import blueprint, last_day
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading, writing
from trainer.web.visitors import Visitor, visitors

__all__ = ["end", "name", "signers"]


@blueprint.get("/organisations/<organisation_id>/signers")
@visitors(Visitor.OWNER)
def signers(organisation_id: str) -> str:
    """Who is named for which kind, and the form that names somebody."""
    return _page(organisation_id)


@blueprint.post("/organisations/<organisation_id>/signers")
@visitors(Visitor.OWNER)
def name(organisation_id: str) -> Response | tuple[str, int]:
    """Name somebody for the kinds that are ticked."""
    sent = request.form
    try:
        with writing() as session:
            name_signer(
                session,
                actor(),
                organisation_id,
                person=sent.get("person", ""),
                kinds=sent.getlist("kinds"),
                licence=sent.get("licence", ""),
                expires_on=sent.get("expires_on", ""),
                now=now(),
            )
    except InputError as error:
        return _page(organisation_id, (error.field or "person", refusal(error))), SHOWN_AGAIN
    flash(gettext("Named. It holds from now on."), "done")
    return redirect(url_for("hands_on.signers", organisation_id=organisation_id), 303)


@blueprint.post("/organisations/<organisation_id>/signers/<signer_id>/end")
@visitors(Visitor.OWNER)
def end(organisation_id: str, signer_id: str) -> Response:
    """End a naming."""
    with writing() as session:
        end_naming(session, actor(), organisation_id, signer_id, now())
    flash(gettext("Ended. What was signed before stays valid, and says that the naming has ended."), "done")
    return redirect(url_for("hands_on.signers", organisation_id=organisation_id), 303)


def _page(organisation_id: str, error: tuple[str, str] | None = None) -> str:
    with reading() as session:
        found = signers_of(session, actor(), organisation_id, now())
    return render_template(
        "hands_on/signers.html",
        found=found,
        organisation=found.organisation,
        kinds=KINDS.values(),
        sent=request.form,
        error=error,
        last_day=last_day,
    )
