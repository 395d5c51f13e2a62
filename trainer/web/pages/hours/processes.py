"""The list of work processes of a shop or school, for its owner: names, hours asked for, what is closed."""

from __future__ import annotations

from flask import flash, redirect, render_template, url_for
from werkzeug.wrappers import Response
from wtforms import StringField

from trainer.calc.message import InputError
from trainer.groups.process_list import LONGEST_TITLE, add_process, change_process, process_list, set_aside, take_up
from trainer.web.forms import SHOWN_AGAIN, Filled, SiteForm
from trainer.web.language import Later, gettext
from trainer.web.pages.hours.blueprint import blueprint
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading, writing
from trainer.web.visitors import Visitor, visitors

__all__ = ["add", "change", "close", "open_again", "process", "processes"]


class ProcessForm(SiteForm):
    """A name, and how many hours are asked for."""

    title = StringField(validators=[Filled(Later("Type what the process is called."))])
    required = StringField()


@blueprint.get("/organisations/<organisation_id>/processes")
@visitors(Visitor.OWNER)
def processes(organisation_id: str) -> str:
    """The list, and the form for another one."""
    return _listed(organisation_id, ProcessForm(formdata=None))


@blueprint.post("/organisations/<organisation_id>/processes")
@visitors(Visitor.OWNER)
def add(organisation_id: str) -> Response | tuple[str, int]:
    """Add a process."""
    form = ProcessForm()
    if form.validate_on_submit() and _kept(organisation_id, form):
        flash(gettext("Added."), "done")
        return redirect(url_for("hours.processes", organisation_id=organisation_id), 303)
    return _listed(organisation_id, form), SHOWN_AGAIN


@blueprint.get("/organisations/<organisation_id>/processes/<process_key>")
@visitors(Visitor.OWNER)
def process(organisation_id: str, process_key: str) -> str:
    """One process, to change."""
    return _one(organisation_id, process_key)


@blueprint.post("/organisations/<organisation_id>/processes/<process_key>")
@visitors(Visitor.OWNER)
def change(organisation_id: str, process_key: str) -> Response | tuple[str, int]:
    """Give it another name, or ask for other hours."""
    form = ProcessForm()
    if form.validate_on_submit() and _kept(organisation_id, form, process_key):
        flash(gettext("Changed. It holds for hours that were entered before, too."), "done")
        return redirect(url_for("hours.processes", organisation_id=organisation_id), 303)
    return _one(organisation_id, process_key, form), SHOWN_AGAIN


@blueprint.post("/organisations/<organisation_id>/processes/<process_key>/close")
@visitors(Visitor.OWNER)
def close(organisation_id: str, process_key: str) -> Response:
    """Close it, or remove it where nobody used it."""
    with writing() as session:
        stays = set_aside(session, actor(), organisation_id, process_key, now())
    closed = gettext("Closed. Hours that were entered on it stay; no more are entered.")
    flash(closed if stays else gettext("Removed. Nobody had entered hours on it."), "done")
    return redirect(url_for("hours.processes", organisation_id=organisation_id), 303)


@blueprint.post("/organisations/<organisation_id>/processes/<process_key>/open")
@visitors(Visitor.OWNER)
def open_again(organisation_id: str, process_key: str) -> Response:
    """Open it again."""
    with writing() as session:
        take_up(session, actor(), organisation_id, process_key, now())
    flash(gettext("Open again."), "done")
    return redirect(url_for("hours.processes", organisation_id=organisation_id), 303)


def _kept(organisation_id: str, form: ProcessForm, key: str = "") -> bool:
    typed = {"title": form.title.data, "required": form.required.data or ""}
    try:
        with writing() as session:
            if key:
                change_process(session, actor(), organisation_id, key, **typed, now=now())
            else:
                add_process(session, actor(), organisation_id, **typed, now=now())
    except InputError as error:
        form.refuse_input(error)
        return False
    return True


def _listed(organisation_id: str, form: ProcessForm) -> str:
    with reading() as session:
        found = process_list(session, actor(), organisation_id)
    return render_template(
        "hours/processes.html", found=found, organisation=found.organisation, form=form, longest=LONGEST_TITLE
    )


def _one(organisation_id: str, key: str, form: ProcessForm | None = None) -> str:
    with reading() as session:
        found = process_list(session, actor(), organisation_id)
    row = found.row(key)
    filled = form or ProcessForm(formdata=None, title=row.process.title, required=f"{row.process.required_hours or ''}")
    return render_template(
        "hours/process.html",
        row=row,
        is_last=found.is_last(key),
        organisation=found.organisation,
        form=filled,
        longest=LONGEST_TITLE,
    )
