"""Joining a class or crew: the code, what will be shared with whom, and the step itself, with a new sign-in or an old one."""

from __future__ import annotations

import re

from flask import Blueprint, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response
from wtforms import StringField

from trainer.accounts.sign_in import Refused, SignedIn
from trainer.calc.message import InputError
from trainer.groups.joining import JoinPreview, join, join_preview
from trainer.groups.newcomers import Newcomer, join_as_newcomer
from trainer.text.words import say
from trainer.web.errors import too_many_tries
from trainer.web.forms import SHOWN_AGAIN, Filled, SiteForm, new_password, once_more
from trainer.web.language import Later, gettext, language
from trainer.web.sessions import actor, passwords, reader, remember, sign_in_life
from trainer.web.transactions import now, writing
from trainer.web.visitors import Visitor, visitors

__all__ = ["blueprint"]

blueprint = Blueprint("joining", __name__)


class CodeForm(SiteForm):
    """The code that an instructor or a foreman gives out."""

    code = StringField(validators=[Filled(Later("Type the code that you were given, for example 7K3M-B9QY."))])


class NewcomerForm(SiteForm):
    """A new sign-in."""

    display_name = StringField(validators=[Filled(Later("Type the name that others should read."))])
    sign_in_name = StringField(validators=[Filled(Later("Type a name to sign in with."))])
    new_password = new_password()
    once_more = once_more()


@blueprint.route("/join", methods=["GET", "POST"])
@visitors(Visitor.ANYONE)
def enter() -> str | Response | tuple[str, int]:
    """Type a code."""
    form = CodeForm()
    if form.validate_on_submit():
        # Letters and digits only: a code with a stroke in it would be another address.
        signs = re.sub(r"[\W_]", "", form.code.data)[:40]
        return redirect(url_for("joining.preview", code=signs or "-"), 303)
    page = render_template("joining/enter.html", form=form)
    return page, SHOWN_AGAIN if form.sentences else 200


@blueprint.get("/join/<code>")
@visitors(Visitor.ANYONE)
def preview(code: str) -> str | Response | tuple[str, int]:
    """What will be shared with whom."""
    found = _preview(code)
    return _shown(found, NewcomerForm(formdata=None)) if isinstance(found, JoinPreview) else _refused(code, found)


@blueprint.post("/join/<code>")
@visitors(Visitor.SIGNED_IN)
def confirm(code: str) -> Response | tuple[str, int]:
    """Join as the person who is signed in."""
    with writing() as session:
        outcome = join(session, actor(), code, now())
    if isinstance(outcome, Refused):
        return _refused(code, outcome)
    flash(gettext("You are in %(group)s now.") % {"group": outcome.name}, "done")
    return redirect(url_for("home.first"), 303)


@blueprint.post("/join/<code>/new")
@visitors(Visitor.ANYONE)
def confirm_as_newcomer(code: str) -> str | Response | tuple[str, int]:
    """Join with a new sign-in, and be signed in."""
    form = NewcomerForm()
    if reader() is not None:
        return redirect(url_for("joining.preview", code=code), 303)
    outcome = _let_in(code, form) if form.validate_on_submit() else None
    if isinstance(outcome, SignedIn):
        response = redirect(url_for("home.first"), 303)
        remember(response, outcome)
        # After that: what stood in the cookie before belongs to nobody any more.
        flash(gettext("Your account is made, and you are in. Below stands what to do first."), "done")
        return response
    found = outcome or _preview(code)
    return _shown(found, form) if isinstance(found, JoinPreview) else _refused(code, found)


def _let_in(code: str, form: NewcomerForm) -> SignedIn | Refused | None:
    """Make the newcomer a member; None when something in the form is to be looked at again."""
    newcomer = Newcomer(form.sign_in_name.data, form.display_name.data, form.new_password.data)
    try:
        with writing() as session:
            return join_as_newcomer(
                session,
                code,
                newcomer,
                address=request.remote_addr or "",
                device=request.user_agent.string,
                now=now(),
                passwords=passwords(),
                life=sign_in_life(),
            )
    except InputError as error:
        form.refuse_input(error)
        return None


def _preview(code: str) -> JoinPreview | Refused:
    # A write session on a GET: wrong codes are counted, so that nobody tries them all.
    with writing() as session:
        return join_preview(session, reader(), code, now(), address=request.remote_addr or "")


def _shown(found: JoinPreview, form: NewcomerForm) -> tuple[str, int]:
    page = render_template("joining/preview.html", found=found, form=form)
    return page, SHOWN_AGAIN if form.sentences else 200


def _refused(code: str, outcome: Refused) -> Response | tuple[str, int]:
    if outcome.wait:
        return too_many_tries(outcome.reason, outcome.wait)
    form = CodeForm(formdata=None, code=code)
    form.refuse("code", say(outcome.reason, language()))
    return render_template("joining/enter.html", form=form), SHOWN_AGAIN
