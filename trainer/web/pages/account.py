"""Signing in and out, and the own account: name, password."""

from __future__ import annotations

from flask import Blueprint, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response
from wtforms import PasswordField, StringField

from trainer.accounts import people, sessions
from trainer.accounts import sign_in as signing_in
from trainer.accounts.half import person_of_half
from trainer.accounts.sign_in import CodeDue, PasswordChanged, Refused, SignedIn
from trainer.calc.message import InputError
from trainer.web.forms import SHOWN_AGAIN, Filled, SiteForm, new_password, once_more, refused_on
from trainer.web.language import Later, gettext
from trainer.web.sessions import (
    actor,
    forget,
    half_token,
    needs_https,
    passwords,
    reader,
    remember,
    remember_half,
    sign_in_life,
    site_key,
    token,
)
from trainer.web.transactions import now, reading, writing
from trainer.web.visitors import Visitor, safe_next, visitors

__all__ = ["blueprint", "go_in"]

blueprint = Blueprint("account", __name__)

Answer = str | Response | tuple[str, int]


class SignInForm(SiteForm):
    """Name and password."""

    sign_in_name = StringField(validators=[Filled(Later("Type the name you sign in with."))])
    password = PasswordField(validators=[Filled(Later("Type your password."))])


class CodeForm(SiteForm):
    """A code of the app, or one on paper."""

    code = StringField(validators=[Filled(Later("Type the code."))])


class PasswordForm(SiteForm):
    """The password in force, and the new one twice."""

    old_password = PasswordField(validators=[Filled(Later("Type the password you have now."))])
    new_password = new_password()
    once_more = once_more()


class NameForm(SiteForm):
    """The name that others read."""

    display_name = StringField(validators=[Filled(Later("Type the name that others should read."))])


@blueprint.route("/sign-in", methods=["GET", "POST"])
@visitors(Visitor.ANYONE)
def sign_in() -> Answer:
    """Sign in, and go on to where one came for."""
    wanted = safe_next(request.args.get("next"))
    if reader() is not None:
        return redirect(wanted or url_for("home.first"), 303)
    form = SignInForm()
    outcome = _try_to_sign_in(form) if form.validate_on_submit() else None
    if isinstance(outcome, SignedIn | CodeDue):
        return go_in(outcome, wanted)
    return refused_on(form, "sign_in_name", outcome) or _shown(
        "account/sign_in.html", form, wanted=wanted, needs_https=needs_https()
    )


def go_in(outcome: SignedIn | CodeDue, wanted: str | None) -> Response:
    """On to where one came for, or first to the page for the code."""
    if isinstance(outcome, CodeDue):
        response = redirect(url_for("account.code", next=wanted), 303)
        remember_half(response, outcome)
        return response
    response = redirect(wanted or url_for("home.first"), 303)
    remember(response, outcome)
    return response


def _try_to_sign_in(form: SignInForm) -> SignedIn | CodeDue | Refused:
    with writing() as session:
        return signing_in.sign_in(
            session,
            form.sign_in_name.data,
            form.password.data,
            address=request.remote_addr or "",
            device=request.user_agent.string,
            now=now(),
            old_token=token(),
            passwords=passwords(),
            life=sign_in_life(),
        )


@blueprint.route("/sign-in/code", methods=["GET", "POST"])
@visitors(Visitor.ANYONE)
def code() -> Answer:
    """The second step: a code of the app, or one on paper."""
    wanted = safe_next(request.args.get("next"))
    if reader() is not None:
        return redirect(wanted or url_for("home.first"), 303)
    form = CodeForm()
    outcome = _try_code(form) if form.validate_on_submit() else _half_is_open()
    if outcome is None:
        flash(gettext("More than ten minutes have gone by since the first step. Begin again with it."), "problem")
        return redirect(url_for("account.sign_in", next=wanted), 303)
    if isinstance(outcome, SignedIn):
        return go_in(outcome, wanted)
    return refused_on(form, "code", outcome) or _shown(
        "account/code.html", form, wanted=wanted, on_paper="paper" in request.args
    )


def _half_is_open() -> bool | None:
    """True where this browser's code is due; None where it is not."""
    held = half_token()
    if held is None:
        return None
    with reading() as session:
        return True if person_of_half(session, held, now()) is not None else None


def _try_code(form: CodeForm) -> SignedIn | Refused | None:
    with writing() as session:
        return signing_in.finish_sign_in(
            session,
            half_token() or "",
            form.code.data,
            device=request.user_agent.string,
            now=now(),
            key=site_key(),
            old_token=token(),
            passwords=passwords(),
            life=sign_in_life(),
        )


@blueprint.post("/sign-out")
@visitors(Visitor.SIGNED_IN, with_old_password=True)
def sign_out() -> Response:
    """End this browser's session."""
    held = token()
    if held is not None:
        with writing() as session:
            sessions.sign_out(session, held, now())
    response = redirect(url_for("account.signed_out"), 303)
    forget(response)
    return response


@blueprint.get("/signed-out")
@visitors(Visitor.ANYONE)
def signed_out() -> str:
    """That it is done."""
    return render_template("account/signed_out.html", deleted="deleted" in request.args)


@blueprint.get("/account")
@visitors(Visitor.SIGNED_IN)
def overview() -> str:
    """The own account."""
    return render_template("account/overview.html", actor=actor())


@blueprint.route("/account/name", methods=["GET", "POST"])
@visitors(Visitor.SIGNED_IN)
def name() -> Answer:
    """Change the name that others read."""
    form = NameForm()
    if not form.is_submitted():
        form.display_name.data = actor().display_name
    if form.validate_on_submit():
        try:
            with writing() as session:
                people.change_display_name(session, actor().person_id, form.display_name.data, now())
        except InputError as error:
            form.refuse_input(error)
        else:
            flash(gettext("The name that others read is changed."), "done")
            return redirect(url_for("account.overview"), 303)
    return _shown("account/name.html", form)


@blueprint.route("/account/password", methods=["GET", "POST"])
@visitors(Visitor.SIGNED_IN, with_old_password=True)
def password() -> Answer:
    """Set a new password; the other sessions end."""
    form = PasswordForm()
    outcome = _try_to_change(form) if form.validate_on_submit() else None
    if isinstance(outcome, PasswordChanged):
        flash(gettext("The new password is set. Every other browser that was signed in as you is signed out."), "done")
        return redirect(url_for("home.first"), 303)
    return refused_on(form, "old_password", outcome) or _shown(
        "account/password.html", form, forced=actor().must_change_password
    )


def _try_to_change(form: PasswordForm) -> PasswordChanged | Refused | None:
    """None when the new password cannot be used; the form says why."""
    old, new = form.old_password.data, form.new_password.data
    try:
        with writing() as session:
            return signing_in.change_password(
                session, actor().person_id, old, new, now(), keep_token=token(), passwords=passwords()
            )
    except InputError as error:
        form.refuse_input(error)
        return None


def _shown(template: str, form: SiteForm, **more: object) -> tuple[str, int]:
    """A form's page, with the status that says whether something in it is to be looked at again."""
    page = render_template(template, form=form, **more)
    return page, SHOWN_AGAIN if form.sentences else 200
