"""Signing in with an account at another site, and linking one: there and back, then what the trip was for."""

from __future__ import annotations

import re

from flask import Blueprint, flash, make_response, redirect, render_template, request, url_for
from sqlalchemy.orm import Session
from werkzeug.wrappers import Response
from wtforms import PasswordField, StringField

from trainer.accounts.openid import Identity, OpenIdError
from trainer.accounts.outside import (
    admit_newcomer,
    link,
    linked_at,
    person_of_identity,
    prove_outside,
    suggested_names,
    unlink,
)
from trainer.accounts.refused import Refused
from trainer.accounts.sign_in import CodeDue, Proved, SignedIn, let_in, prove
from trainer.calc.message import InputError, Message
from trainer.groups.joining import JoinPreview, join_preview
from trainer.text.words import say
from trainer.web.forms import SHOWN_AGAIN, Filled, SiteForm, refused_on
from trainer.web.language import Later, gettext, language
from trainer.web.logs import log_notice
from trainer.web.pages.account import go_in
from trainer.web.provider import outside_label, provider
from trainer.web.sessions import actor, passwords, reader, renew_token, sign_in_life, token
from trainer.web.transactions import now, reading, writing
from trainer.web.trips import forget_found, found_by, keep_found, keep_trip, take_trip
from trainer.web.visitors import Visitor, safe_next, visitors

__all__ = ["blueprint"]

blueprint = Blueprint("outside", __name__)

LONGEST_CODE = 4000
JOINING = re.compile(r"/join/([A-Za-z0-9]{1,40})")
"""The page of a code to join a class or crew, which is an invitation."""


class LinkForm(SiteForm):
    """The password, so that nobody links an account at a browser that was left open."""

    password = PasswordField(validators=[Filled(Later("Type the password you have now."))])


class NewcomerForm(SiteForm):
    """What somebody new is called here."""

    display_name = StringField(validators=[Filled(Later("Type the name that others should read."))])
    sign_in_name = StringField(validators=[Filled(Later("Type a name to sign in with."))])


@blueprint.get("/sign-in/elsewhere")
@visitors(Visitor.ANYONE)
def sign_in() -> Response | tuple[str, int]:
    """Off to the other site, to be signed in here."""
    wanted = safe_next(request.args.get("next"))
    if reader() is not None:
        return redirect(wanted or url_for("home.first"), 303)
    return _set_out("sign-in", wanted)


@blueprint.get("/account/elsewhere")
@visitors(Visitor.SIGNED_IN)
def overview() -> str:
    """Whether an account at the other site signs one in."""
    issuer = provider().settings.issuer
    with reading() as session:
        since = linked_at(session, actor().person_id, issuer)
    return render_template("account/elsewhere.html", since=since, label=outside_label(), issuer=issuer)


@blueprint.get("/account/elsewhere/begin")
@visitors(Visitor.SIGNED_IN)
def begin_link() -> Response | tuple[str, int]:
    """Off to the other site, to link the account there."""
    return _set_out("link", None)


@blueprint.get("/account/elsewhere/prove")
@visitors(Visitor.SIGNED_IN, before_factor=True)
def begin_proof() -> Response | tuple[str, int]:
    """Off to the other site, to show that it is still the same person at this browser."""
    return _set_out("prove", safe_next(request.args.get("next")), anew=True)


@blueprint.route("/account/elsewhere/link", methods=["GET", "POST"])
@visitors(Visitor.SIGNED_IN)
def confirm_link() -> Response | tuple[str, int]:
    """Back from there: link the account, for the password."""
    provider()
    found = found_by(actor().public_id)
    if found is None:
        return redirect(url_for("outside.overview"), 303)
    form = LinkForm()
    outcome = _linked(form, found.identity) if form.validate_on_submit() else None
    if outcome is True:
        forget_found()
        flash(gettext("It is linked: that account signs you in from now on."), "done")
        return redirect(url_for("outside.overview"), 303)
    if outcome is False:
        forget_found()
        return _told(Message("accounts.outside-taken"), 409)
    if answer := refused_on(form, "password", outcome):
        return answer
    page = render_template(
        "account/elsewhere_link.html",
        form=form,
        label=outside_label(),
        name=found.identity.name or found.identity.user_name,
    )
    return page, SHOWN_AGAIN if form.sentences else 200


@blueprint.route("/sign-in/elsewhere/new", methods=["GET", "POST"])
@visitors(Visitor.ANYONE)
def newcomer() -> Response | tuple[str, int]:
    """Back from there, and nobody here has the account: make one, under names that the person has read."""
    found = found_by("") if provider() and reader() is None else None
    if found is None or not _may_come_in(found.wanted):
        return redirect(url_for("account.sign_in"), 303)
    form = NewcomerForm()
    if form.validate_on_submit():
        outcome = _admitted(form, found.identity)
        if isinstance(outcome, SignedIn | CodeDue):
            return go_in(outcome, safe_next(found.wanted))
        if outcome is False:
            return _told(Message("accounts.outside-taken"), 409)
    elif not form.is_submitted():
        with reading() as session:
            form.sign_in_name.data, form.display_name.data = suggested_names(session, found.identity)
    page = render_template("account/elsewhere_new.html", form=form, label=outside_label())
    return page, SHOWN_AGAIN if form.sentences else 200


@blueprint.post("/account/elsewhere/end")
@visitors(Visitor.SIGNED_IN, lately=True)
def end_link() -> Response:
    """Let the account sign one in no more."""
    with writing() as session:
        unlink(session, actor().person_id, provider().settings.issuer, now())
    flash(gettext("That account signs you in no more. Your name and password do."), "done")
    return redirect(url_for("outside.overview"), 303)


@blueprint.get("/sign-in/elsewhere/back")
@visitors(Visitor.ANYONE)
def back() -> Response | tuple[str, int]:
    """Back from the other site."""
    issuer = provider().settings.issuer
    begun = take_trip(request.args.get("state", ""))
    if begun is None:
        return _told(Message("accounts.outside-lost"), 400)
    if request.args.get("iss", issuer) != issuer:
        return _told(Message("accounts.outside-unbelievable"), 400)
    code = request.args.get("code", "")
    if not 1 <= len(code) <= LONGEST_CODE:
        return _told(Message("accounts.outside-refused"), 400)
    try:
        identity = provider().come_back(code, _back(), begun.trip, now())
    except OpenIdError as error:
        return _failed(error)
    return _arrived(begun.purpose, identity, safe_next(begun.wanted))


def _arrived(purpose: str, identity: Identity, wanted: str | None) -> Response | tuple[str, int]:
    """What the trip was for, now that it is known who came back."""
    if purpose == "sign-in" and reader() is None:
        return _signed_in(identity, wanted)
    if purpose == "link" and reader() is not None:
        keep_found(identity, actor().public_id)
        return redirect(url_for("outside.confirm_link"), 303)
    if purpose == "prove" and reader() is not None:
        return _proved(identity, wanted)
    return _told(Message("accounts.outside-lost"), 400)


def _signed_in(identity: Identity, wanted: str | None) -> Response:
    outcome = _let_in(identity)
    if outcome is not None:
        return go_in(outcome, wanted)
    if not _may_come_in(wanted):
        return _unknown()
    keep_found(identity, "", wanted)
    return redirect(url_for("outside.newcomer"), 303)


def _may_come_in(wanted: str | None) -> bool:
    """Whether somebody new gets an account: where the settings say so, and whoever comes from the page of a code that is good."""
    if provider().settings.takes_newcomers:
        return True
    page = JOINING.fullmatch(wanted or "")
    if page is None:
        return False
    # A write session: wrong codes are counted, so that nobody tries them all.
    with writing() as session:
        found = join_preview(session, None, page[1], now(), address=request.remote_addr or "")
    return isinstance(found, JoinPreview)


def _proved(identity: Identity, wanted: str | None) -> Response:
    with writing() as session:
        proved = prove_outside(session, actor().person_id, identity, now(), token=token() or "", life=sign_in_life())
    if isinstance(proved, Refused):
        return _told(proved.reason, 403)
    renew_token(proved)
    return redirect(wanted or url_for("account.overview"), 303)


def _let_in(identity: Identity) -> SignedIn | CodeDue | None:
    """Sign in whose account it is; None for an account that nobody here has."""
    with writing() as session:
        person_id = person_of_identity(session, identity)
        return None if person_id is None else _in(session, person_id)


def _in(session: Session, person_id: int) -> SignedIn | CodeDue:
    device = request.user_agent.string
    return let_in(session, person_id, device=device, now=now(), old_token=token(), life=sign_in_life())


def _admitted(form: NewcomerForm, found: Identity) -> SignedIn | CodeDue | bool:
    """The newcomer's session; False when the account signs somebody in already, True when the form says what is amiss."""
    try:
        with writing() as session:
            names = {"sign_in_name": form.sign_in_name.data, "display_name": form.display_name.data}
            person_id = admit_newcomer(session, found, **names, now=now(), passwords=passwords())
            return False if person_id is None else _in(session, person_id)
    except InputError as error:
        form.refuse_input(error)
        return True


def _linked(form: LinkForm, found: Identity) -> object:
    """Whether the account signs this person in now; a refusal when the password was not right."""
    me, typed = actor().person_id, form.password.data
    with writing() as session:
        held, how = token() or "", passwords()
        outcome = prove(session, me, typed, now(), token=held, passwords=how, life=sign_in_life())
        linked = link(session, me, found, now()) if isinstance(outcome, Proved) else outcome
    if isinstance(outcome, Proved):
        renew_token(outcome)
    return linked


def _set_out(purpose: str, wanted: str | None, *, anew: bool = False) -> Response | tuple[str, int]:
    try:
        trip = provider().set_out(_back(), now(), anew=anew)
    except OpenIdError as error:
        return _failed(error)
    keep_trip(trip, purpose, wanted)
    # The one redirect that leaves this site: to the address that the issuer in the settings names in its metadata.
    return redirect(trip.address, 303)


def _back() -> str:
    return url_for("outside.back", _external=True)


def _failed(error: OpenIdError) -> Response:
    log_notice("other site", error.detail)
    return _told(error.reason, 502 if error.reason.id == "accounts.outside-down" else 400)


def _unknown() -> Response:
    page = render_template("account/elsewhere_unknown.html", label=outside_label())
    return make_response(page, 403)


def _told(reason: Message, status: int) -> Response:
    page = render_template("account/elsewhere_failed.html", reason=say(reason, language()), label=outside_label())
    return make_response(page, status)
