"""Signing in with an account at another site: there and back, then what the trip was for."""

from __future__ import annotations

import re

from flask import Blueprint, make_response, redirect, render_template, request, url_for
from sqlalchemy.orm import Session
from werkzeug.wrappers import Response
from wtforms import StringField

from trainer.accounts.openid import Identity, OpenIdError
from trainer.accounts.outside import admit_newcomer, person_of_identity, prove_outside, suggested_names
from trainer.accounts.refused import Refused
from trainer.accounts.sign_in import CodeDue, SignedIn, let_in
from trainer.calc.message import InputError, Message
from trainer.groups.joining import JoinPreview, join_preview
from trainer.text.words import say
from trainer.web.forms import SHOWN_AGAIN, Filled, SiteForm
from trainer.web.language import Later, language
from trainer.web.logs import log_notice
from trainer.web.pages.account import go_in
from trainer.web.provider import outside_label, provider
from trainer.web.sessions import actor, reader, renew_token, sign_in_life, token
from trainer.web.transactions import now, reading, writing
from trainer.web.trips import forget_found, found_by, keep_found, keep_trip, take_trip
from trainer.web.visitors import Visitor, safe_next, visitors

__all__ = ["blueprint", "told_why"]

blueprint = Blueprint("outside", __name__)

LONGEST_CODE = 4000
JOINING = re.compile(r"/join/([A-Za-z0-9]{1,40})")
"""The page of a code to join a class or crew, which is an invitation."""


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


@blueprint.route("/sign-in/elsewhere/new", methods=["GET", "POST"])
@visitors(Visitor.ANYONE)
def newcomer() -> Response | tuple[str, int]:
    """Back from there, and nobody here has the account: make one, under names that the person has read."""
    found = found_by("") if provider() and reader() is None else None
    if found is None or not _may_come_in(found.wanted):
        return redirect(url_for("account.sign_in"), 303)
    wanted = safe_next(found.wanted)
    form = NewcomerForm()
    if form.validate_on_submit():
        try:
            outcome = _admitted(form, found.identity)
        except InputError as error:
            form.refuse_input(error)
        else:
            forget_found()
            return (
                go_in(outcome, wanted) if outcome else told_why(Message("accounts.outside-taken"), 409, wanted=wanted)
            )
    elif not form.is_submitted():
        with reading() as session:
            form.sign_in_name.data, form.display_name.data = suggested_names(session, found.identity)
    page = render_template("account/elsewhere_new.html", form=form, label=outside_label(), wanted=wanted)
    return page, SHOWN_AGAIN if form.sentences else 200


@blueprint.get("/sign-in/elsewhere/back")
@visitors(Visitor.ANYONE)
def back() -> Response | tuple[str, int]:
    """Back from the other site."""
    issuer = provider().settings.issuer
    begun = take_trip(request.args.get("state", ""))
    if begun is None:
        return told_why(Message("accounts.outside-lost"), 400)
    purpose, wanted = begun.purpose, safe_next(begun.wanted)
    if request.args.get("iss", issuer) != issuer:
        return told_why(Message("accounts.outside-unbelievable"), 400, purpose=purpose, wanted=wanted)
    code = request.args.get("code", "")
    if not 1 <= len(code) <= LONGEST_CODE:
        return told_why(Message("accounts.outside-refused"), 400, purpose=purpose, wanted=wanted)
    try:
        identity = provider().come_back(code, _back(), begun.trip, now())
    except OpenIdError as error:
        return _failed(error, purpose, wanted)
    return _arrived(purpose, identity, wanted)


def _arrived(purpose: str, identity: Identity, wanted: str | None) -> Response | tuple[str, int]:
    """What the trip was for, now that it is known who came back."""
    if purpose == "sign-in" and reader() is None:
        return _signed_in(identity, wanted)
    if purpose == "link" and reader() is not None:
        keep_found(identity, actor().public_id)
        return redirect(url_for("linking.confirm"), 303)
    if purpose == "prove" and reader() is not None:
        return _proved(identity, wanted)
    # Signed in or out in another window meanwhile.
    return told_why(Message("accounts.outside-lost"), 400, purpose=purpose, wanted=wanted)


def _signed_in(identity: Identity, wanted: str | None) -> Response:
    outcome = _let_in(identity)
    if outcome is not None:
        return go_in(outcome, wanted)
    if not _may_come_in(wanted):
        page = render_template("account/elsewhere_unknown.html", label=outside_label(), wanted=wanted)
        return make_response(page, 403)
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
        return told_why(proved.reason, 403, purpose="prove", wanted=wanted)
    renew_token(proved)
    return redirect(wanted or url_for("account.overview"), 303)


def _let_in(identity: Identity) -> SignedIn | CodeDue | None:
    """Sign in whose account it is; None for an account that nobody here has."""
    with writing() as session:
        person_id = person_of_identity(session, identity)
        return None if person_id is None else _in(session, person_id)


def _admitted(form: NewcomerForm, found: Identity) -> SignedIn | CodeDue | None:
    """
    The newcomer's session; None when the account signs somebody in already.

    Raises:
        InputError: When one of the names cannot be used; nothing was changed then.
    """
    names = {"sign_in_name": form.sign_in_name.data, "display_name": form.display_name.data}
    with writing() as session:
        person_id = admit_newcomer(session, found, **names, now=now())
        return None if person_id is None else _in(session, person_id)


def _in(session: Session, person_id: int) -> SignedIn | CodeDue:
    device = request.user_agent.string
    return let_in(session, person_id, device=device, now=now(), old_token=token(), life=sign_in_life())


def _set_out(purpose: str, wanted: str | None, *, anew: bool = False) -> Response | tuple[str, int]:
    try:
        trip = provider().set_out(_back(), now(), anew=anew)
    except OpenIdError as error:
        return _failed(error, purpose, wanted)
    keep_trip(trip, purpose, wanted)
    # The one redirect that leaves this site: to the address that the issuer in the settings names in its metadata.
    return redirect(trip.address, 303)


def _back() -> str:
    return url_for("outside.back", _external=True)


def _failed(error: OpenIdError, purpose: str, wanted: str | None) -> Response:
    log_notice("other site", error.detail)
    status = 502 if error.reason.id == "accounts.outside-down" else 400
    return told_why(error.reason, status, purpose=purpose, wanted=wanted)


def told_why(reason: Message, status: int, *, purpose: str = "", wanted: str | None = None) -> Response:
    """
    The page that says why nothing came of it, with the ways on.

    Args:
        reason: What happened.
        status: Of the answer.
        purpose: What it was for, "sign-in", "link" or "prove"; "" where that is not known.
        wanted: Where the person wanted to go in the end.
    """
    words = say(reason, language())
    page = render_template(
        "account/elsewhere_failed.html", reason=words, label=outside_label(), purpose=purpose, wanted=wanted
    )
    return make_response(page, status)
