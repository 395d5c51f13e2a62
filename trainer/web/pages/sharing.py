"""What is held about a person, who sees it, opening and closing parts of it, leaving a group, deleting the account."""

from __future__ import annotations

from flask import Blueprint, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response
from wtforms import StringField

from trainer.accounts.access import group_of_member
from trainer.accounts.audit import LOOKED_KINDS, lines_about
from trainer.accounts.names import fold_sign_in_name
from trainer.accounts.people import LastAdministratorError, delete_person
from trainer.groups.held import held_about
from trainer.groups.membership import leave, set_sharing, sharing_of
from trainer.groups.sight import who_sees
from trainer.groups.told import note_told, untold_groups
from trainer.web.forms import SHOWN_AGAIN, Filled, SiteForm
from trainer.web.language import Later, gettext
from trainer.web.sessions import actor, forget, keeping
from trainer.web.transactions import now, reading, writing
from trainer.web.visitors import Visitor, safe_next, visitors

__all__ = ["blueprint"]

blueprint = Blueprint("sharing", __name__)

NOTED_LINES = 30
MOST_LOOKS = 500


class DeleteForm(SiteForm):
    """The own sign-in name, so that nobody deletes an account by a slip of the thumb."""

    sign_in_name = StringField(validators=[Filled(Later("Type your sign-in name, to show that you mean it."))])

    def validate_sign_in_name(self, field: StringField) -> None:
        """It has to be the own."""
        if fold_sign_in_name(field.data) != actor().sign_in_name:
            name = actor().sign_in_name
            field.errors.append(gettext("Type %(name)s, the name you sign in with.") % {"name": name})


@blueprint.get("/account/held")
@visitors(Visitor.SIGNED_IN)
def held() -> str:
    """All of it on one page."""
    with reading() as session:
        counted = held_about(session, actor().person_id)
        groups = who_sees(session, actor())
        noted = lines_about(session, actor().person_id, limit=NOTED_LINES)
    return render_template("sharing/held.html", held=counted, groups=groups, noted=noted, actor=actor(), kept=keeping())


@blueprint.get("/account/looks")
@visitors(Visitor.SIGNED_IN)
def looks() -> str:
    """Who looked at the own record, or took it along, and when."""
    with reading() as session:
        lines = lines_about(session, actor().person_id, limit=MOST_LOOKS, kinds=LOOKED_KINDS)
    return render_template("sharing/looks.html", lines=lines, most=MOST_LOOKS, kept=keeping())


@blueprint.get("/account/told")
@visitors(Visitor.SIGNED_IN, before_told=True)
def told() -> str | Response:
    """What the classes see that others have put one into."""
    with reading() as session:
        groups = untold_groups(session, actor())
    wanted = safe_next(request.args.get("next"))
    if not groups:
        return redirect(wanted or url_for("home.first"), 303)
    return render_template("sharing/told.html", groups=groups, wanted=wanted)


@blueprint.post("/account/told")
@visitors(Visitor.SIGNED_IN, before_told=True)
def have_read() -> Response:
    """It was read: go on to where one came for."""
    with writing() as session:
        note_told(session, actor(), now())
    return redirect(safe_next(request.args.get("next")) or url_for("home.first"), 303)


@blueprint.post("/account/groups/<group_id>/sharing")
@visitors(Visitor.SIGNED_IN)
def change(group_id: str) -> Response:
    """Open what is ticked to the leaders of a group, and close what is not."""
    wanted = request.form.getlist("share")
    with writing() as session:
        group = group_of_member(session, actor(), group_id)
        for line in sharing_of(session, actor(), group_id):
            if line.may_change and line.shared != (line.what in wanted):
                set_sharing(session, actor(), group_id, line.what, now(), shared=not line.shared)
    flash(gettext("What %(group)s sees is saved.") % {"group": group.name}, "done")
    return redirect(url_for("sharing.held"), 303)


@blueprint.get("/account/groups/<group_id>/leave")
@visitors(Visitor.SIGNED_IN, before_told=True)
def ask_to_leave(group_id: str) -> str:
    """What leaving means."""
    with reading() as session:
        group = group_of_member(session, actor(), group_id)
    return render_template("sharing/leave.html", group=group)


@blueprint.post("/account/groups/<group_id>/leave")
@visitors(Visitor.SIGNED_IN, before_told=True)
def leave_group(group_id: str) -> Response:
    """Leave a group."""
    with writing() as session:
        group = group_of_member(session, actor(), group_id)
        leave(session, actor(), group_id, now())
    flash(gettext("You have left %(group)s.") % {"group": group.name}, "done")
    return redirect(url_for("sharing.held"), 303)


@blueprint.route("/account/delete", methods=["GET", "POST"])
@visitors(Visitor.SIGNED_IN, lately=True)
def delete() -> str | Response | tuple[str, int]:
    """Delete the own account, after its name was typed."""
    form = DeleteForm()
    if form.validate_on_submit() and _deleted(form):
        response = redirect(url_for("account.signed_out", deleted="yes"), 303)
        forget(response)
        return response
    return render_template("sharing/delete.html", form=form), SHOWN_AGAIN if form.sentences else 200


def _deleted(form: DeleteForm) -> bool:
    me = actor().person_id
    try:
        with writing() as session:
            delete_person(session, me, now(), by_id=me)
    except LastAdministratorError:
        form.refuse("sign_in_name", gettext("Make somebody else administrator first: the site needs one."))
        return False
    return True
