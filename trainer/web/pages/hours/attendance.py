"""Who was there on which day of a class, or at a talk of a crew."""

from __future__ import annotations

from flask import flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response
from wtforms import StringField

from trainer.accounts.access import NotFoundError
from trainer.calc.message import InputError
from trainer.groups.attendance import AttendancePage, DayLine, attendance_page, note_day
from trainer.groups.quarters import write_hours
from trainer.web.forms import SHOWN_AGAIN, Filled, SiteForm
from trainer.web.language import Later, gettext
from trainer.web.moments import zone_of
from trainer.web.navigation import LEADERS
from trainer.web.pages.hours.blueprint import blueprint
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading, writing
from trainer.web.visitors import visitors

__all__ = ["attendance", "attendance_day", "note_attendance", "put_attendance_right"]


class DayForm(SiteForm):
    """A day, what it was about, and how long it took."""

    day = StringField(validators=[Filled(Later("Type the day."))])
    topic = StringField(validators=[Filled(Later("Type what it was about, for example Offsets and saddles."))])
    hours = StringField(validators=[Filled(Later("Type how long it took, for example 2.5."))])


@blueprint.get("/groups/<group_id>/attendance")
@visitors(*LEADERS)
def attendance(group_id: str) -> str:
    """The list for today, and the days before."""
    form = DayForm(formdata=None, day=now().astimezone(zone_of(actor())).date().isoformat())
    return _page(_found(group_id), form)


@blueprint.post("/groups/<group_id>/attendance")
@visitors(*LEADERS)
def note_attendance(group_id: str) -> Response | tuple[str, int]:
    """Note a day."""
    form = DayForm()
    if form.validate_on_submit() and _noted(group_id, form):
        flash(gettext("Noted."), "done")
        return redirect(url_for("hours.attendance", group_id=group_id), 303)
    return _page(_found(group_id), form), SHOWN_AGAIN


@blueprint.get("/groups/<group_id>/attendance/<day_id>")
@visitors(*LEADERS)
def attendance_day(group_id: str, day_id: str) -> str:
    """The list of one day, to put right."""
    found = _found(group_id)
    day = _day(found, day_id)
    form = DayForm(formdata=None, day=day.day.isoformat(), topic=day.topic, hours=write_hours(day.quarters))
    return _page(found, form, day)


@blueprint.post("/groups/<group_id>/attendance/<day_id>")
@visitors(*LEADERS)
def put_attendance_right(group_id: str, day_id: str) -> Response | tuple[str, int]:
    """Put the list of one day right."""
    form = DayForm()
    day = _day(_found(group_id), day_id)
    if form.validate_on_submit() and _noted(group_id, form, day_id):
        flash(gettext("Put right."), "done")
        return redirect(url_for("hours.attendance", group_id=group_id), 303)
    return _page(_found(group_id), form, day), SHOWN_AGAIN


def _noted(group_id: str, form: DayForm, day_id: str | None = None) -> bool:
    try:
        with writing() as session:
            note_day(
                session,
                actor(),
                group_id,
                day=form.day.data,
                topic=form.topic.data,
                hours=form.hours.data,
                there=request.form.getlist("there"),
                now=now(),
                public_id=day_id,
            )
    except InputError as error:
        form.refuse_input(error)
        return False
    return True


def _found(group_id: str) -> AttendancePage:
    with reading() as session:
        return attendance_page(session, actor(), group_id)


def _day(found: AttendancePage, day_id: str) -> DayLine:
    day = next((one for one in found.days if one.public_id == day_id), None)
    if day is None:
        raise NotFoundError
    return day


def _page(found: AttendancePage, form: DayForm, day: DayLine | None = None) -> str:
    people = day.people if day else found.members
    ticked = [one.person for one in people if one.there]
    return render_template(
        "hours/attendance.html",
        group=found.group,
        days=found.days,
        people=people,
        ticked=request.form.getlist("there") if request.method == "POST" else ticked,
        form=form,
        day=day,
        hours=write_hours,
    )
