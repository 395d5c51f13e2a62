"""The own second factor: setting it up, new codes on paper, turning it off. And showing anew who one is, before that."""

from __future__ import annotations

from flask import Blueprint, current_app, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response
from wtforms import PasswordField, StringField

from trainer.accounts import second_factor as factor
from trainer.accounts.codes import app_address, grouped, new_paper_codes
from trainer.accounts.refused import Refused
from trainer.accounts.second_factor import Confirmed
from trainer.accounts.sign_in import Proved, prove
from trainer.web.forms import SHOWN_AGAIN, Filled, SiteForm, refused_on
from trainer.web.language import Later, gettext
from trainer.web.papers.readable import readable_svg
from trainer.web.security import shown_once
from trainer.web.sessions import actor, passwords, renew_token, sign_in_life, site_key, token
from trainer.web.templating import SITE_NAME
from trainer.web.transactions import now, reading, writing
from trainer.web.visitors import Visitor, safe_next, visitors

__all__ = ["blueprint"]

blueprint = Blueprint("second_factor", __name__)

Answer = str | Response | tuple[str, int]


class ProveForm(SiteForm):
    """The password once more."""

    password = PasswordField(validators=[Filled(Later("Type the password you have now."))])


class CodeForm(SiteForm):
    """A code of the app, or one on paper."""

    code = StringField(validators=[Filled(Later("Type the code that the app shows."))])


class OffForm(ProveForm, CodeForm):
    """Password and code."""


@blueprint.route("/account/prove", methods=["GET", "POST"])
@visitors(Visitor.SIGNED_IN, before_factor=True)
def show_who() -> Answer:
    """Type the password anew, and go on to what wanted that."""
    wanted = safe_next(request.args.get("next"))
    form = ProveForm()
    outcome = _prove(form) if form.validate_on_submit() else None
    if isinstance(outcome, Proved):
        return redirect(wanted or url_for("account.overview"), 303)
    return refused_on(form, "password", outcome) or _shown("account/prove.html", form, wanted=wanted)


@blueprint.get("/account/second-factor")
@visitors(Visitor.SIGNED_IN, before_factor=True)
def overview() -> str:
    """Whether it is set up, and what can be done."""
    with reading() as session:
        line = factor.factor_of(session, actor().person_id, key=site_key())
    return render_template("account/second_factor.html", line=line, owed=actor().owes_second_factor)


@blueprint.post("/account/second-factor/begin")
@visitors(Visitor.SIGNED_IN, before_factor=True, lately=True)
def begin() -> Response:
    """Draw a secret, which the next page shows."""
    with writing() as session:
        factor.begin(session, actor().person_id, now(), key=site_key())
    return redirect(url_for("second_factor.set_up"), 303)


@blueprint.route("/account/second-factor/set-up", methods=["GET", "POST"])
@visitors(Visitor.SIGNED_IN, before_factor=True, lately=True)
def set_up() -> Answer:
    """Show the secret, and take the first code of the app."""
    with reading() as session:
        begun = factor.begun(session, actor().person_id, now(), key=site_key())
    if begun is None:
        return redirect(url_for("second_factor.overview"), 303)
    form = CodeForm()
    if form.validate_on_submit():
        outcome, paper = _confirm(form)
        if isinstance(outcome, Confirmed):
            return _paper(paper, first=True)
        if answer := refused_on(form, "code", outcome):
            return answer
    address = app_address(begun.secret, actor().sign_in_name, SITE_NAME)
    picture = readable_svg(
        address, gettext("The secret as a picture that the app reads. The text below says the same.")
    )
    page = render_template(
        "account/second_factor_set_up.html", form=form, picture=picture, secret=grouped(begun.secret), address=address
    )
    return _unkept(page, SHOWN_AGAIN if form.sentences else 200)


@blueprint.route("/account/second-factor/codes", methods=["GET", "POST"])
@visitors(Visitor.SIGNED_IN, lately=True)
def paper() -> Answer:
    """Make new codes on paper, for a code."""
    if not actor().has_second_factor:
        return redirect(url_for("second_factor.overview"), 303)
    form = CodeForm()
    if form.validate_on_submit():
        shown, kept = new_paper_codes(passwords())
        with writing() as session:
            me, code = actor().person_id, form.code.data
            outcome = factor.renew_paper_codes(
                session, me, code, now(), key=site_key(), passwords=passwords(), paper=kept
            )
        if isinstance(outcome, Confirmed):
            return _paper(shown, first=False)
        if answer := refused_on(form, "code", outcome):
            return answer
    return _shown("account/second_factor_codes.html", form)


@blueprint.route("/account/second-factor/off", methods=["GET", "POST"])
@visitors(Visitor.SIGNED_IN)
def turn_off() -> Answer:
    """Turn it off, for password and code."""
    if not actor().has_second_factor:
        return redirect(url_for("second_factor.overview"), 303)
    form = OffForm()
    if form.validate_on_submit():
        outcome = _prove(form)
        if answer := refused_on(form, "password", outcome if isinstance(outcome, Refused) else None):
            return answer
        off = _turn_off(form) if isinstance(outcome, Proved) else None
        if isinstance(off, Confirmed):
            flash(gettext("It is off: your password alone signs in. Every other browser is signed out."), "done")
            return redirect(url_for("second_factor.overview"), 303)
        if answer := refused_on(form, "code", off):
            return answer
    wanted = any(one.wants_second_factor for one in actor().memberships)
    return _shown("account/second_factor_off.html", form, wanted=wanted)


def _prove(form: ProveForm) -> Proved | Refused:
    me, typed = actor().person_id, form.password.data
    with writing() as session:
        held, how = token() or "", passwords()
        outcome = prove(session, me, typed, now(), token=held, passwords=how, life=sign_in_life())
    if isinstance(outcome, Proved):
        renew_token(outcome)
    return outcome


def _confirm(form: CodeForm) -> tuple[Confirmed | Refused | None, tuple[str, ...]]:
    """What came of a first code, and the codes on paper that hold when it was right."""
    shown, kept = new_paper_codes(passwords())
    with writing() as session:
        me, code = actor().person_id, form.code.data
        outcome = factor.confirm(session, me, code, now(), key=site_key(), paper=kept, keep_token=token())
    return outcome, shown


def _turn_off(form: CodeForm) -> Confirmed | Refused:
    with writing() as session:
        me, code = actor().person_id, form.code.data
        return factor.turn_off(session, me, code, now(), key=site_key(), passwords=passwords(), keep_token=token())


def _paper(shown: tuple[str, ...], *, first: bool) -> Response:
    return shown_once(render_template("account/second_factor_paper.html", codes=shown, first=first))


def _shown(template: str, form: SiteForm, **more: object) -> tuple[str, int]:
    return render_template(template, form=form, **more), SHOWN_AGAIN if form.sentences else 200


def _unkept(page: str, status: int) -> Response:
    """A page with a secret in it, which no browser keeps for the way back."""
    response = current_app.make_response((page, status))
    response.headers["Cache-Control"] = "no-store"
    return response
