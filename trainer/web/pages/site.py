"""For who looks after the site: its schools and shops, and accounts with a password that works once. Nobody's record."""

from __future__ import annotations

from functools import cache
from zoneinfo import available_timezones

from flask import Blueprint, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response
from wtforms import SelectField, StringField

from trainer.accounts.passwords import one_time_password
from trainer.accounts.people import create_person, person_named, reset_password
from trainer.accounts.second_factor import clear
from trainer.calc.message import InputError
from trainer.groups.organisations import make_organisation
from trainer.groups.register import organisations_of_site
from trainer.web.forms import SHOWN_AGAIN, Filled, SiteForm
from trainer.web.language import Later, gettext
from trainer.web.security import shown_once
from trainer.web.sessions import actor, passwords
from trainer.web.transactions import now, reading, writing
from trainer.web.visitors import Visitor, visitors

__all__ = ["blueprint"]

blueprint = Blueprint("site", __name__)

NEAR_ZONES = (
    ("America/New_York", Later("Eastern (New York)")),
    ("America/Chicago", Later("Central (Chicago)")),
    ("America/Denver", Later("Mountain (Denver)")),
    ("America/Phoenix", Later("Arizona (Phoenix)")),
    ("America/Los_Angeles", Later("Pacific (Los Angeles)")),
    ("America/Anchorage", Later("Alaska (Anchorage)")),
    ("Pacific/Honolulu", Later("Hawaii (Honolulu)")),
    ("America/Puerto_Rico", Later("Atlantic (Puerto Rico)")),
)
LONGEST_NAME = 400
PLACES_OF_WORLD = ("Africa/", "America/", "Asia/", "Atlantic/", "Australia/", "Europe/", "Indian/", "Pacific/")


class OrganisationForm(SiteForm):
    """A school or a shop."""

    name = StringField(validators=[Filled(Later("Type its name."))])
    kind = StringField(validators=[Filled(Later("Choose whether it is a school or a shop."))])
    time_zone = SelectField(
        validators=[Filled(Later("Choose the time zone that its clocks show."))], validate_choice=False
    )


class PersonForm(SiteForm):
    """A new account."""

    display_name = StringField(validators=[Filled(Later("Type the name that others should read."))])
    sign_in_name = StringField(validators=[Filled(Later("Type a name to sign in with."))])


class PasswordForm(SiteForm):
    """Who needs a new password."""

    sign_in_name = StringField(validators=[Filled(Later("Type the sign-in name of the person."))])


@blueprint.get("/site")
@visitors(Visitor.ADMINISTRATOR)
def overview() -> str:
    """The schools and shops, the first of them or those with such a name, and what can be done."""
    named = request.args.get("name", "").strip()[:LONGEST_NAME]
    with reading() as session:
        found = organisations_of_site(session, actor(), named)
    return render_template("site/overview.html", found=found, named=named)


@blueprint.route("/site/organisations/new", methods=["GET", "POST"])
@visitors(Visitor.ADMINISTRATOR)
def new_organisation() -> str | Response | tuple[str, int]:
    """Make a school or a shop; its first owner is appointed next."""
    form = OrganisationForm()
    form.time_zone.choices = zones()
    made = _organisation(form) if form.validate_on_submit() else None
    if made is None:
        page = render_template("site/new_organisation.html", form=form)
        return page, SHOWN_AGAIN if form.sentences else 200
    flash(gettext("It is made. Appoint its owner next."), "done")
    return redirect(url_for("crew.staff", organisation_id=made), 303)


@blueprint.route("/site/people/new", methods=["GET", "POST"])
@visitors(Visitor.ADMINISTRATOR)
def new_person() -> Response | tuple[str, int]:
    """Make an account, and show its password this once."""
    form = PersonForm()
    password = _person(form) if form.validate_on_submit() else None
    if password is None:
        return render_template("site/new_person.html", form=form), SHOWN_AGAIN if form.sentences else 200
    return _once(form.sign_in_name.data, password)


@blueprint.route("/site/people/password", methods=["GET", "POST"])
@visitors(Visitor.ADMINISTRATOR, lately=True)
def new_password() -> Response | tuple[str, int]:
    """Give somebody who has forgotten it a new password, and show it this once."""
    form = PasswordForm()
    password = _password(form) if form.validate_on_submit() else None
    if password is None:
        return render_template("site/new_password.html", form=form), SHOWN_AGAIN if form.sentences else 200
    return _once(form.sign_in_name.data, password)


@blueprint.route("/site/people/lost-phone", methods=["GET", "POST"])
@visitors(Visitor.ADMINISTRATOR, lately=True)
def lost_phone() -> Response | tuple[str, int]:
    """Let somebody who has lost phone and paper sign in with the password alone."""
    form = PasswordForm()
    if form.validate_on_submit() and _cleared(form):
        name = form.sign_in_name.data.strip()
        flash(
            gettext("%(name)s signs in with the password alone now, and is signed out everywhere.") % {"name": name},
            "done",
        )
        return redirect(url_for("site.overview"), 303)
    return render_template("site/lost_phone.html", form=form), SHOWN_AGAIN if form.sentences else 200


def zones() -> list[tuple[str, str]]:
    """Time zones to choose from: those that are likely under plain names, then all of the world."""
    near = [(zone, str(words)) for zone, words in NEAR_ZONES]
    return [("", gettext("Choose one")), *near, *((zone, zone.replace("_", " ")) for zone in far_zones())]


@cache
def far_zones() -> tuple[str, ...]:
    """Time zones of the world by their places, but for those that stand first in the list."""
    near = {zone for zone, _ in NEAR_ZONES}
    return tuple(sorted(one for one in available_timezones() - near if one.startswith(PLACES_OF_WORLD)))


def _organisation(form: OrganisationForm) -> str | None:
    try:
        with writing() as session:
            return make_organisation(
                session,
                actor(),
                name=form.name.data,
                kind=form.kind.data,
                time_zone=form.time_zone.data,
                now=now(),
            )
    except InputError as error:
        form.refuse_input(error)
        return None


def _person(form: PersonForm) -> str | None:
    once = one_time_password()
    try:
        with writing() as session:
            create_person(
                session,
                sign_in_name=form.sign_in_name.data,
                display_name=form.display_name.data,
                password=once,
                must_change_password=True,
                now=now(),
                passwords=passwords(),
            )
    except InputError as error:
        form.refuse_input(error)
        return None
    return once


def _password(form: PasswordForm) -> str | None:
    with writing() as session:
        person = person_named(session, form.sign_in_name.data)
        if person is not None:
            return reset_password(session, person.id, now(), by_id=actor().person_id, passwords=passwords())
    form.refuse("sign_in_name", gettext("Type a name that somebody on this site signs in with: nobody has this one."))
    return None


def _cleared(form: PasswordForm) -> bool:
    with writing() as session:
        person = person_named(session, form.sign_in_name.data)
        if person is not None and person.id == actor().person_id:
            form.refuse(
                "sign_in_name",
                gettext("Turn your own off under Your account, with a code; or ask another administrator."),
            )
            return False
        if person is not None and clear(session, person.id, now(), by_id=actor().person_id):
            return True
    form.refuse("sign_in_name", gettext("Type the name of somebody who is asked for a code: nobody of this name is."))
    return False


def _once(sign_in_name: str, password: str) -> Response:
    return shown_once(render_template("site/once.html", sign_in_name=sign_in_name.strip(), password=password))
