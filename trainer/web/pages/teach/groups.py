"""The desk: the classes and crews that one leads, what is due in them, and a new one."""

from __future__ import annotations

from flask import flash, redirect, render_template, url_for
from werkzeug.wrappers import Response
from wtforms import StringField

from trainer.accounts.access import NotFoundError
from trainer.accounts.actor import ActorMembership
from trainer.calc.message import InputError
from trainer.groups.claims import claims_waiting_for
from trainer.groups.desk import desk
from trainer.groups.membership import make_group
from trainer.groups.terms import put_away_groups
from trainer.web.content import edition_of, library
from trainer.web.forms import SHOWN_AGAIN, Filled, SiteForm
from trainer.web.language import Later, gettext
from trainer.web.pages.teach.blueprint import LEADERS, blueprint
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading, writing
from trainer.web.visitors import visitors

__all__ = ["groups", "make", "make_sample", "remove_sample"]


class GroupForm(SiteForm):
    """A name, and where the new class or crew belongs; its kind follows from that."""

    organisation = StringField(validators=[Filled(Later("Choose where it belongs."))])
    name = StringField(validators=[Filled(Later("Type a name for it, for example Tuesday evening."))])


@blueprint.get("/groups")
@visitors(*LEADERS)
def groups() -> str:
    """All that one leads, what is due soonest first."""
    return _desk(GroupForm(formdata=None))


@blueprint.post("/groups")
@visitors(*LEADERS)
def make() -> Response | tuple[str, int]:
    """Make a class or crew; its page has the code to join with."""
    form = GroupForm()
    places = _may_make_in()
    if not places:
        raise NotFoundError
    if len(places) == 1:
        form.organisation.data = places[0].organisation_public_id
    made = _made(form) if form.validate_on_submit() else None
    if made is None:
        return _desk(form), SHOWN_AGAIN
    flash(gettext("It is made. Give out its code, and people can join."), "done")
    return redirect(url_for("teach.group", group_id=made), 303)


@blueprint.post("/organisations/<organisation_id>/sample")
@visitors(*LEADERS)
def make_sample(organisation_id: str) -> Response:
    """Make a class of invented people to look around in."""
    from trainer.demo.sample_class import make_sample_class  # noqa: PLC0415 - who invents people is in memory for nobody else

    with writing() as session:
        made = make_sample_class(session, library(), actor(), organisation_id, edition=edition_of(session), now=now())
    flash(gettext("Everybody in it is invented. Look at its results, then take it away."), "done")
    return redirect(url_for("teach.group", group_id=made), 303)


@blueprint.post("/groups/<group_id>/sample/remove")
@visitors(*LEADERS)
def remove_sample(group_id: str) -> Response:
    """Take such a class away, with all that was in it."""
    from trainer.demo.sample_class import remove_sample_class  # noqa: PLC0415 - as above

    with writing() as session:
        remove_sample_class(session, actor(), group_id)
    flash(gettext("The sample class is gone, with everybody in it."), "done")
    return redirect(url_for("teach.groups"), 303)


def _made(form: GroupForm) -> str | None:
    try:
        with writing() as session:
            return make_group(session, actor(), form.organisation.data, name=form.name.data, now=now())
    except InputError as error:
        form.refuse_input(error)
        return None


def _desk(form: GroupForm) -> str:
    with reading() as session:
        found = desk(session, actor(), now())
        claims = claims_waiting_for(session, actor())
        away = put_away_groups(session, actor())
    return render_template(
        "teach/groups.html",
        groups=found,
        away=away,
        claims=claims,
        form=form,
        may_make_in=_may_make_in(),
        owns=actor().owns,
        samples=[] if any(one.is_sample for one in found) else _may_make_in(),
    )


def _may_make_in() -> list[ActorMembership]:
    """One membership for each organisation in which a group may be made."""
    return list({one.organisation_id: one for one in actor().may_make_groups_in}.values())
