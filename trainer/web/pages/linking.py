"""The own account at another site: whether it signs one in here, linking it, and ending that."""

from __future__ import annotations

from flask import Blueprint, flash, redirect, render_template, url_for
from werkzeug.wrappers import Response
from wtforms import PasswordField

from trainer.accounts.openid import Identity
from trainer.accounts.outside import link, link_of, unlink
from trainer.accounts.refused import Refused
from trainer.accounts.sign_in import prove
from trainer.calc.message import Message
from trainer.web.forms import SHOWN_AGAIN, Filled, SiteForm, refused_on
from trainer.web.language import Later, gettext
from trainer.web.pages.outside import told_why
from trainer.web.provider import outside_label, provider
from trainer.web.sessions import actor, passwords, renew_token, sign_in_life, token
from trainer.web.transactions import now, reading, writing
from trainer.web.trips import forget_found, found_by
from trainer.web.visitors import Visitor, visitors

__all__ = ["blueprint"]

blueprint = Blueprint("linking", __name__)


class LinkForm(SiteForm):
    """The password, so that nobody links an account at a browser that was left open."""

    password = PasswordField(validators=[Filled(Later("Type the password you have now."))])


@blueprint.get("/account/elsewhere")
@visitors(Visitor.SIGNED_IN)
def overview() -> str:
    """Whether an account at the other site signs one in."""
    issuer = provider().settings.issuer
    with reading() as session:
        held = link_of(session, actor().person_id, issuer)
    return render_template("account/elsewhere.html", held=held, label=outside_label(), issuer=issuer)


@blueprint.route("/account/elsewhere/link", methods=["GET", "POST"])
@visitors(Visitor.SIGNED_IN)
def confirm() -> Response | tuple[str, int]:
    """Back from there: link the account, for the password."""
    provider()
    found = found_by(actor().public_id)
    if found is None:
        return redirect(url_for("linking.overview"), 303)
    form = LinkForm()
    if form.validate_on_submit():
        outcome = _linked(form, found.identity)
        if not isinstance(outcome, Refused):
            forget_found()
            return _done() if outcome else told_why(Message("accounts.outside-taken"), 409, purpose="link")
        if answer := refused_on(form, "password", outcome):
            return answer
    name = found.identity.name or found.identity.user_name
    page = render_template("account/elsewhere_link.html", form=form, label=outside_label(), name=name)
    return page, SHOWN_AGAIN if form.sentences else 200


def _linked(form: LinkForm, found: Identity) -> bool | Refused:
    """Whether the account signs this person in now; a refusal when the password was not right."""
    me, typed = actor().person_id, form.password.data
    with writing() as session:
        held, how = token() or "", passwords()
        outcome = prove(session, me, typed, now(), token=held, passwords=how, life=sign_in_life())
        if isinstance(outcome, Refused):
            return outcome
        linked = link(session, me, found, now())
    renew_token(outcome)
    return linked


def _done() -> Response:
    flash(gettext("It is linked: that account signs you in from now on."), "done")
    return redirect(url_for("linking.overview"), 303)


@blueprint.post("/account/elsewhere/end")
@visitors(Visitor.SIGNED_IN, lately=True)
def end() -> Response:
    """Let the account sign one in no more."""
    with writing() as session:
        refused = unlink(session, actor().person_id, provider().settings.issuer, now())
    if refused is not None:
        return told_why(refused.reason, 409, purpose="link")
    flash(gettext("That account signs you in no more. Your name and password do."), "done")
    return redirect(url_for("linking.overview"), 303)
