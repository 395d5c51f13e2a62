"""One's own log: enter hours on the job, take an entry back, totals, weeks without one, and all of it as CSV."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from flask import flash, redirect, render_template, url_for
from werkzeug.wrappers import Response
from wtforms import SelectField, StringField

from trainer.accounts.access import NotFoundError
from trainer.accounts.actor import ActorMembership
from trainer.calc.message import InputError
from trainer.groups.hours import enter, take_back
from trainer.groups.hours_log import OWN_TOTAL_COLUMNS, hours_log, log_csv, own_total_rows
from trainer.groups.processes import Process, processes_of
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


#: Between the key of a process and its shop, where shops differ.
AT = "@"


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
    if form.validate_on_submit() and _is_of_the_shop(form, crews) and _entered(form):
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
    return as_csv("my hours by process", OWN_TOTAL_COLUMNS, own_total_rows(actor().display_name, found.shops))


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
                process=form.work_process.data.partition(AT)[0],
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


def _choices(crews: Sequence[ActorMembership], listed: Mapping[int, Sequence[Process]]) -> Iterator[tuple[str, str]]:
    """Each open process once; the shop stands with one that another shop calls otherwise or does not have."""
    shops = {one.organisation_id: one for one in crews}
    where: dict[tuple[str, str], list[int]] = {}
    for shop, processes in listed.items():
        for one in processes:
            if not one.is_closed:
                where.setdefault((one.key, one.title), []).append(shop)
    for (key, title), found in where.items():
        if len(found) == len(shops):
            yield key, title
        else:
            for shop in found:
                yield f"{key}{AT}{shops[shop].organisation_public_id}", f"{title} ({shops[shop].organisation_name})"


def _is_of_the_shop(form: HoursForm, crews: Sequence[ActorMembership]) -> bool:
    """Whether the process belongs to the shop of the crew that was chosen."""
    of = form.work_process.data.partition(AT)[2]
    crew = next((one for one in crews if one.group_public_id == form.group.data), None)
    if crew is None or not of or of == crew.organisation_public_id:
        return True
    form.refuse("work_process", gettext("Choose a work process of the shop whose crew stands above."))
    return False


def _page(form: HoursForm) -> str:
    crews = _crews()
    form.group.choices = [(one.group_public_id, one.group_name) for one in crews]
    with reading() as session:
        found = hours_log(session, library(), actor(), now())
        listed = processes_of(session, {one.organisation_id for one in crews})
    form.work_process.choices = [("", gettext("Choose a work process")), *_choices(crews, listed)]
    return render_template(
        "hours/log.html",
        log=found,
        form=form,
        crews=crews,
        several_shops=len(found.shops) > 1,
        hours=write_hours,
    )
