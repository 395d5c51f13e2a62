"""What a crew entered: confirm it, send it back with a reason, and all of it as CSV."""

from __future__ import annotations

from flask import flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from trainer.accounts.access import NotFoundError
from trainer.calc.message import InputError
from trainer.groups.hours import CrewHours, crew_hours, decide
from trainer.groups.hours_log import TOTAL_COLUMNS, ProcessTotal, as_csv, total_rows, totals
from trainer.groups.quarters import write_hours
from trainer.web import downloads
from trainer.web.forms import SHOWN_AGAIN, refusal
from trainer.web.language import gettext
from trainer.web.navigation import LEADERS
from trainer.web.pages.hours.blueprint import blueprint, csv_file
from trainer.web.sessions import actor
from trainer.web.transactions import now, writing
from trainer.web.visitors import visitors

__all__ = ["crew", "decide_hours", "export_crew", "export_totals"]

WRITERS = {"csv": downloads.as_csv, "xlsx": downloads.as_xlsx}

MOST_SHOWN = 60


@blueprint.get("/groups/<group_id>/hours")
@visitors(*LEADERS)
def crew(group_id: str) -> str:
    """What waits first, then totals by person, then what was decided."""
    return _page(_found(group_id))


@blueprint.post("/groups/<group_id>/hours/<hours_id>")
@visitors(*LEADERS)
def decide_hours(group_id: str, hours_id: str) -> Response | tuple[str, int]:
    """Confirm an entry, or send it back with a reason."""
    confirm = request.form.get("decision") == "confirm"
    try:
        with writing() as session:
            reason = request.form.get("reason", "")
            decide(session, actor(), group_id, hours_id, confirm=confirm, reason=reason, now=now())
    except InputError as error:
        return _page(_found(group_id), (hours_id, refusal(error))), SHOWN_AGAIN
    flash(gettext("Confirmed.") if confirm else gettext("Sent back, with your reason."), "done")
    return redirect(url_for("hours.crew", group_id=group_id), 303)


@blueprint.get("/groups/<group_id>/hours.csv")
@visitors(*LEADERS)
def export_crew(group_id: str) -> Response:
    """All that the crew entered, as CSV."""
    return csv_file(as_csv(_found(group_id).entries), "crew-hours.csv")


@blueprint.get("/groups/<group_id>/hours-by-process.<kind>")
@visitors(*LEADERS)
def export_totals(group_id: str, kind: str) -> Response:
    """Each person's hours by work process against what is asked for, as CSV or as a spreadsheet."""
    if kind not in WRITERS:
        raise NotFoundError
    found = _found(group_id)
    rows = [row for person, lines in _totals(found) for row in total_rows(person, lines)]
    return WRITERS[kind](f"hours by process {found.group.name}", TOTAL_COLUMNS, rows)


def _totals(found: CrewHours) -> list[tuple[str, tuple[ProcessTotal, ...]]]:
    """Name and totals of each person who entered hours, by name; two people of one name stand apart."""
    people = sorted({(one.person, one.person_id) for one in found.entries})
    return [
        (name, totals([one for one in found.entries if one.person_id == key], found.processes)) for name, key in people
    ]


def _found(group_id: str) -> CrewHours:
    # A write session on a GET: that somebody looked is noted, for the members to see.
    with writing() as session:
        return crew_hours(session, actor(), group_id, now())


def _page(found: CrewHours, error: tuple[str, str] = ("", "")) -> str:
    return render_template(
        "hours/crew.html",
        group=found.group,
        waiting=[one for one in found.entries if not one.decision],
        decided=[one for one in found.entries if one.decision][:MOST_SHOWN],
        totals=_totals(found),
        error=error,
        hours=write_hours,
    )
