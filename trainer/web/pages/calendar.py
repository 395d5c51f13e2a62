"""The own due dates in a calendar program: making its address, ending it, and what it fetches."""

from __future__ import annotations

from flask import Blueprint, Response, flash, redirect, render_template, url_for
from werkzeug.wrappers import Response as Redirect

from trainer.accounts.access import NotFoundError
from trainer.groups.calendar import DueDate, due_dates, end_feed, feed_made_at, new_feed, owner_of_feed
from trainer.text.calendar_file import CalendarEvent, calendar_file
from trainer.text.words import say
from trainer.web.kinds import rule_of
from trainer.web.language import gettext, language
from trainer.web.security import shown_once
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading, writing
from trainer.web.visitors import Visitor, visitors

__all__ = ["blueprint"]

blueprint = Blueprint("calendar", __name__)

#: Nobody's host: the ids are random, and stay the same when a site moves.
OF_TRAINER = "tubing-trainer.invalid"


@blueprint.get("/account/calendar")
@visitors(Visitor.SIGNED_IN)
def overview() -> str:
    """What it is, and whether there is an address."""
    with reading() as session:
        made_at = feed_made_at(session, actor())
    return render_template("account/calendar.html", made_at=made_at)


@blueprint.post("/account/calendar")
@visitors(Visitor.SIGNED_IN)
def make() -> Response:
    """Make an address, and show it this once."""
    with writing() as session:
        token = new_feed(session, actor(), now())
    address = url_for("calendar.feed", token=token, _external=True)
    return shown_once(render_template("account/calendar_once.html", address=address))


@blueprint.post("/account/calendar/end")
@visitors(Visitor.SIGNED_IN)
def end() -> Redirect:
    """End the address in force."""
    with writing() as session:
        end_feed(session, actor(), now())
    flash(gettext("The address opens nothing any more."), "done")
    return redirect(url_for("calendar.overview"), 303)


@blueprint.get("/calendar/<token>.ics")
@visitors(Visitor.ANYONE)
def feed(token: str) -> Response:
    """The calendar, for whoever has its address: calendar programs do not sign in."""
    with reading() as session:
        owner = owner_of_feed(session, token)
        if owner is None:
            raise NotFoundError
        dates = due_dates(session, owner, now())
    body = calendar_file(gettext("Tubing Trainer: what is due"), [_event(one) for one in dates])
    return Response(body, content_type="text/calendar; charset=utf-8")


def _event(one: DueDate) -> CalendarEvent:
    endpoint = "teach.results" if one.leads else "learn.work_one"
    return CalendarEvent(
        uid=f"{'led' if one.leads else 'due'}-{one.work}@{OF_TRAINER}",
        at=one.due_at.astimezone(one.zone).date() if one.kind == "room" else one.due_at,
        changed_at=one.changed_at,
        title=gettext("Due: %(work)s (%(group)s)") % {"work": one.title, "group": one.group},
        about=say(rule_of(one.kind), language()),
        url=url_for(endpoint, work_id=one.work, _external=True),
    )
