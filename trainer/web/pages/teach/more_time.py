"""More time for one person at work that was given."""

from __future__ import annotations

from datetime import date, timedelta
from zoneinfo import ZoneInfo

from flask import flash, redirect, render_template, url_for
from werkzeug.wrappers import Response
from wtforms import StringField
from wtforms.validators import ValidationError

from trainer.accounts.access import NotFoundError
from trainer.calc.message import InputError
from trainer.groups.more_time import give_more_time
from trainer.groups.more_time import more_time as more_time_of
from trainer.web.forms import SHOWN_AGAIN, Filled, SiteForm
from trainer.web.language import Later, gettext
from trainer.web.pages.teach.blueprint import LEADERS, blueprint
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading, writing
from trainer.web.visitors import visitors

__all__ = ["give_time", "more_time"]

A_WEEK = timedelta(days=7)


class TimeForm(SiteForm):
    """Who has more time, until which day, and why."""

    person = StringField(validators=[Filled(Later("Choose who has more time."))])
    ends_on = StringField(validators=[Filled(Later("Type the day until which there is time."))])
    reason = StringField(validators=[Filled(Later("Type the reason, for example On the road all week."))])

    def validate_ends_on(self, field: StringField) -> None:
        """It has to be a day."""
        try:
            date.fromisoformat(field.data.strip())
        except ValueError:
            said = gettext("Type a day as year, month and day: this one could not be read. For example: %(day)s")
            raise ValidationError(said % {"day": now().date() + A_WEEK}) from None


@blueprint.get("/given/<work_id>/time")
@visitors(*LEADERS)
def more_time(work_id: str) -> str:
    """Who has more time, and a form to give it."""
    return _page(work_id, TimeForm(formdata=None))


@blueprint.post("/given/<work_id>/time")
@visitors(*LEADERS)
def give_time(work_id: str) -> Response | tuple[str, int]:
    """Give it to one person."""
    form = TimeForm()
    if form.validate_on_submit() and _given(work_id, form):
        flash(gettext("There is more time. What was answered late within it counts as well."), "done")
        return redirect(url_for("teach.more_time", work_id=work_id), 303)
    return _page(work_id, form), SHOWN_AGAIN


def _given(work_id: str, form: TimeForm) -> bool:
    more = {"ends_on": date.fromisoformat(form.ends_on.data.strip()), "reason": form.reason.data, "now": now()}
    try:
        with writing() as session:
            give_more_time(session, actor(), work_id, form.person.data, **more)
    except InputError as error:
        form.refuse_input(error)
        return False
    return True


def _page(work_id: str, form: TimeForm) -> str:
    with reading() as session:
        work, people = more_time_of(session, actor(), work_id)
    if work.withdrawn_at is not None:
        raise NotFoundError
    if not form.ends_on.data:
        zone = ZoneInfo(work.group.organisation.time_zone)
        form.ends_on.data = (max(work.due_at, now()).astimezone(zone).date() + A_WEEK).isoformat()
    return render_template("teach/more_time.html", work=work, group=work.group, people=people, form=form)
