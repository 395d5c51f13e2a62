"""One's own log: enter hours on the job, take an entry back, totals, weeks without one, and all of it as CSV."""

from __future__ import annotations

from flask import flash, redirect, render_template, url_for
from werkzeug.wrappers import Response
from wtforms import SelectField, StringField

from trainer.accounts.access import NotFoundError
from trainer.accounts.actor import ActorMembership
from trainer.calc.message import InputError
from trainer.groups.hours import enter, take_back
from trainer.groups.hours_log import TOTAL_COLUMNS, hours_log, log_csv, total_rows
from trainer.groups.processes import processes_of
from trainer.groups.quarters import write_hours
from trainer.web.content import library
from trainer.web.downloads import as_csv
from trainer.web.forms import SHOWN_AGAIN, Filled, SiteForm
from trainer.web.language import Later, gettext
from trainer.web.pages.hours.blueprint import blueprint, csv_file
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading, writing
from trainer.web.visitors import Visitor, visitors

__all__ = ["enter_hours", "export", "export_own_totals", "log", "take_hours_back"]


class HoursForm(SiteForm):
    """A day, hours, and what they went into."""

    group = SelectField(validators=[Filled(Later("Choose the crew."))], validate_choice=False)
    day = StringField(validators=[Filled(Later("Type the day."))])
    work_process = SelectField(validators=[Filled(Later("Choose what the hours went into."))], validate_choice=False)
    hours = StringField(validators=[Filled(Later("Type the hours, for example 5.5."))])
    note = StringField()


@blueprint.get("/hours")
@visitors(Visitor.SIGNED_IN)
def log() -> str:
    """The whole log."""
    return _page(HoursForm(formdata=None, day=now().astimezone(actor().zone).date().isoformat()))


@blueprint.post("/hours")
@visitors(Visitor.SIGNED_IN)
def enter_hours() -> Response | tuple[str, int]:
    """Enter hours of one day on one process."""
    form, crews = HoursForm(), _crews()
    if not crews:
        raise NotFoundError
    if len(crews) == 1:
        form.group.data = crews[0].group_public_id
    if form.validate_on_submit() and _entered(form):
        flash(gettext("Entered. Who leads the crew confirms it."), "done")
        return redirect(url_for("hours.log"), 303)
    return _page(form), SHOWN_AGAIN


@blueprint.post("/hours/<hours_id>/take-back")
@visitors(Visitor.SIGNED_IN)
def take_hours_back(hours_id: str) -> Response:
    """Take an entry back."""
    with writing() as session:
        take_back(session, actor(), hours_id, now())
    flash(gettext("Taken back."), "done")
    return redirect(url_for("hours.log"), 303)


@blueprint.get("/hours-by-process.csv")
@visitors(Visitor.SIGNED_IN)
def export_own_totals() -> Response:
    """Hours by work process against what is asked for, as CSV."""
    with reading() as session:
        found = hours_log(session, library(), actor(), now())
    rows = [row for shop in found.shops for row in total_rows(actor().display_name, shop.lines)]
    return as_csv("my hours by process", TOTAL_COLUMNS, rows)


@blueprint.get("/hours.csv")
@visitors(Visitor.SIGNED_IN)
def export() -> Response:
    """The whole log as CSV."""
    with reading() as session:
        found = hours_log(session, library(), actor(), now())
    return csv_file(log_csv(found, actor().display_name), "hours.csv")


def _entered(form: HoursForm) -> bool:
    try:
        with writing() as session:
            enter(
                session,
                actor(),
                form.group.data,
                day=form.day.data,
                process=form.work_process.data,
                hours=form.hours.data,
                note=form.note.data or "",
                now=now(),
            )
    except InputError as error:
        form.refuse_input(error)
        return False
    return True


def _crews() -> list[ActorMembership]:
    """The crews that one works in."""
    return [one for one in actor().learns_in if one.group_kind == "crew"]


def _page(form: HoursForm) -> str:
    crews = _crews()
    form.group.choices = [(one.group_public_id, one.group_name) for one in crews]
    with reading() as session:
        found = hours_log(session, library(), actor(), now())
        listed = processes_of(session, {one.organisation_id for one in crews})
    # Shops that go by the same list share its lines.
    titles = {one.key: one.title for processes in listed.values() for one in processes if not one.is_closed}
    form.work_process.choices = [("", gettext("Choose a work process")), *titles.items()]
    return render_template("hours/log.html", log=found, form=form, crews=crews, hours=write_hours)
