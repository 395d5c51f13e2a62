"""Registrations and licenses: the own ones, and a member's for the owner."""

from __future__ import annotations

from collections.abc import Sequence

from flask import flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from trainer.accounts.access import LearnerRef
from trainer.calc.message import InputError
from trainer.groups.registrations import (
    RegistrationLine,
    end_own,
    enter_for_member,
    enter_own,
    of_member,
    own_registrations,
)
from trainer.web.forms import SHOWN_AGAIN, refusal
from trainer.web.language import gettext
from trainer.web.pages.hands_on.blueprint import blueprint, last_day
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading, writing
from trainer.web.visitors import Visitor, visitors

__all__ = ["enter", "enter_for", "registrations", "registrations_of", "take_away"]

Error = tuple[str, str] | None


@blueprint.get("/account/registrations")
@visitors(Visitor.SIGNED_IN)
def registrations() -> str:
    """The own ones."""
    return _own()


@blueprint.post("/account/registrations")
@visitors(Visitor.SIGNED_IN)
def enter() -> Response | tuple[str, int]:
    """Enter one of one's own."""
    try:
        with writing() as session:
            enter_own(session, actor(), **_typed(), now=now())
    except InputError as error:
        return _own((error.field or "words", refusal(error))), SHOWN_AGAIN
    flash(gettext("Entered."), "done")
    return redirect(url_for("hands_on.registrations"), 303)


@blueprint.post("/account/registrations/<registration_id>/end")
@visitors(Visitor.SIGNED_IN)
def take_away(registration_id: str) -> Response:
    """Take one of one's own away."""
    with writing() as session:
        end_own(session, actor(), registration_id, now())
    flash(gettext("Taken away."), "done")
    return redirect(url_for("hands_on.registrations"), 303)


@blueprint.get("/groups/<group_id>/people/<person_id>/registrations")
@visitors(Visitor.OWNER)
def registrations_of(group_id: str, person_id: str) -> str:
    """A member's."""
    return _member(group_id, person_id)


@blueprint.post("/groups/<group_id>/people/<person_id>/registrations")
@visitors(Visitor.OWNER)
def enter_for(group_id: str, person_id: str) -> Response | tuple[str, int]:
    """Enter one for a member."""
    try:
        with writing() as session:
            enter_for_member(session, actor(), group_id, person_id, **_typed(), now=now())
    except InputError as error:
        return _member(group_id, person_id, (error.field or "words", refusal(error))), SHOWN_AGAIN
    flash(gettext("Entered. The person can read it, and who entered it."), "done")
    return redirect(url_for("hands_on.registrations_of", group_id=group_id, person_id=person_id), 303)


def _typed() -> dict[str, str]:
    return {name: request.form.get(name, "") for name in ("what", "words", "expires_on")}


def _own(error: Error = None) -> str:
    with reading() as session:
        lines = own_registrations(session, actor(), now())
    return _page(lines, error)


def _member(group_id: str, person_id: str, error: Error = None) -> str:
    with reading() as session:
        learner, lines = of_member(session, actor(), group_id, person_id, now())
    return _page(lines, error, learner)


def _page(lines: Sequence[RegistrationLine], error: Error, learner: LearnerRef | None = None) -> str:
    return render_template(
        "hands_on/registrations.html", lines=lines, error=error, learner=learner, typed=_typed(), last_day=last_day
    )
