"""A class over the terms: another name, putting it away, opening it again, its copy for the next term."""

from __future__ import annotations

from collections.abc import Callable

from flask import flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response
from wtforms import StringField

from trainer.accounts.access import group_led_by
from trainer.calc.message import InputError
from trainer.groups.terms import copy_group, next_term, open_again, put_away, rename
from trainer.web.forms import SHOWN_AGAIN, Filled, SiteForm
from trainer.web.language import Later, gettext
from trainer.web.pages.teach.blueprint import LEADERS, blueprint
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading, writing
from trainer.web.visitors import visitors

__all__ = ["ask_to_put_away", "copy", "group_name", "open_group_again", "put_group_away"]


class NameForm(SiteForm):
    """What it is called."""

    name = StringField(validators=[Filled(Later("Type a name for it, for example Tuesday evening."))])


@blueprint.route("/groups/<group_id>/name", methods=["GET", "POST"])
@visitors(*LEADERS)
def group_name(group_id: str) -> str | Response | tuple[str, int]:
    """Call it something else."""
    form = NameForm()
    if form.validate_on_submit() and _done(form, lambda: _rename(group_id, form)) is not None:
        flash(gettext("It has its new name."), "done")
        return redirect(url_for("teach.group", group_id=group_id), 303)
    return _page("teach/group_name.html", group_id, form, lambda name: name)


@blueprint.route("/groups/<group_id>/copy", methods=["GET", "POST"])
@visitors(*LEADERS)
def copy(group_id: str) -> str | Response | tuple[str, int]:
    """Make the class of the next term out of this one."""
    form = NameForm()
    made = _done(form, lambda: _copy(group_id, form)) if form.validate_on_submit() else None
    if made is not None:
        flash(gettext("It is made, with the same leaders. Results stay where they were made."), "done")
        return redirect(url_for("teach.group", group_id=made), 303)
    return _page("teach/group_copy.html", group_id, form, lambda name: next_term(name, now()))


@blueprint.get("/groups/<group_id>/away")
@visitors(*LEADERS)
def ask_to_put_away(group_id: str) -> str:
    """What putting it away means."""
    with reading() as session:
        group = group_led_by(session, actor(), group_id)
    return render_template("teach/group_away.html", group=group)


@blueprint.post("/groups/<group_id>/away")
@visitors(*LEADERS)
def put_group_away(group_id: str) -> Response:
    """Put it away."""
    with writing() as session:
        name = group_led_by(session, actor(), group_id).name
        put_away(session, actor(), group_id, now())
    flash(
        gettext("%(group)s is put away. It stands at the end of this page, and can be opened again.") % {"group": name},
        "done",
    )
    return redirect(url_for("teach.groups"), 303)


@blueprint.post("/groups/<group_id>/back")
@visitors(*LEADERS)
def open_group_again(group_id: str) -> Response:
    """Open it again."""
    try:
        with writing() as session:
            open_again(session, actor(), group_id, now())
    except InputError:
        said = gettext("There is another one of that name by now. Give this one another name first, then open it.")
        flash(said, "problem")
        return redirect(url_for("teach.group_name", group_id=group_id), 303)
    flash(gettext("It is open again. Joining stays closed until you give it a new code."), "done")
    return redirect(url_for("teach.group", group_id=group_id), 303)


def _rename(group_id: str, form: NameForm) -> str:
    with writing() as session:
        rename(session, actor(), group_id, form.name.data, now())
    return group_id


def _copy(group_id: str, form: NameForm) -> str:
    with writing() as session:
        people = "people" in request.form
        return copy_group(session, actor(), group_id, name=form.name.data, with_people=people, now=now())


def _done(form: NameForm, do: Callable[[], str]) -> str | None:
    try:
        return do()
    except InputError as error:
        form.refuse_input(error)
        return None


def _page(template: str, group_id: str, form: NameForm, suggest: Callable[[str], str]) -> tuple[str, int]:
    with reading() as session:
        group = group_led_by(session, actor(), group_id)
    if not form.is_submitted():
        form.name.data = suggest(group.name)
    page = render_template(template, group=group, form=form, people="people" in request.form)
    return page, SHOWN_AGAIN if form.sentences else 200
