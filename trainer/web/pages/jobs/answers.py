"""What the boards of a crew and of a whole shop have in common: their answers, and the page of one job on a day."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime, time, timedelta
from functools import cache, lru_cache, partial
from typing import Any
from zoneinfo import ZoneInfo

from flask import render_template, request, url_for

from trainer.accounts.refs import OrganisationRef
from trainer.figures.ready_tape import JobTally, draw_ready_tape
from trainer.figures.words import Words
from trainer.groups.ready_board import ReadyPeople
from trainer.groups.ready_questions import answers_of
from trainer.progress.needs import JobNeed, Ready
from trainer.text.words import say
from trainer.web.forms import SHOWN_AGAIN
from trainer.web.language import gettext, language
from trainer.web.pages.jobs.blueprint import need_name
from trainer.web.sessions import actor
from trainer.web.transactions import now

__all__ = ["SIX", "answers", "day_asked_for", "job_page"]

SIX = time(6)
"""When a job begins, for what holds on a day."""

MOST_AHEAD = 365
MOST_NAMES, MOST_STALE = 8, 20
"""Names in one line of a board, and lines of what goes stale; the page of the job has all."""


def answers(found: ReadyPeople, organisation: OrganisationRef) -> dict[str, Any]:
    """What both boards show: the picture, what goes stale, what would help most, whether the reader may edit job types."""
    said = answers_of(found)
    return {
        "board": found,
        "states": Ready,
        "picture": _picture(said.tallies, language()) if found.jobs and found.people else "",
        "who": said.who,
        "person_href": _person_hrefs(),
        "stale": said.stale[:MOST_STALE],
        "more_stale": len(said.stale) - MOST_STALE,
        "most_names": MOST_NAMES,
        "moves": said.moves,
        "need_name": need_name,
        "owns": any(one.organisation_public_id == organisation.public_id for one in actor().owns),
    }


@lru_cache(maxsize=64)
def _picture(tallies: tuple[JobTally, ...], spoken: str) -> str:
    """The picture, drawn once for as long as nobody's readiness changes the tallies."""
    return draw_ready_tape(tallies, Words(partial(say, language=spoken)))


def _person_hrefs() -> Callable[[str, str, str], str]:
    """Addresses of people by group, job type and person; built once for each group and job type, for boards of hundreds."""

    @cache
    def before(group: str, job: str) -> str:
        return url_for("jobs.job", group_id=group, job_id=job) + "/people/"

    return lambda group, job, person: before(group, job) + person


def job_page(
    found: ReadyPeople,
    organisation: OrganisationRef,
    job: JobNeed,
    *,
    back: tuple[str, str],
    again: str,
    crew: str = "",
) -> str | tuple[str, int]:
    """Who can go on a job on the day that is asked for."""
    typed = request.args.get("on", "").strip()
    at, wrong = day_asked_for(typed, now(), ZoneInfo(organisation.time_zone))
    page = render_template(
        "jobs/job.html",
        board=found,
        organisation=organisation,
        job=job,
        states=Ready,
        at=at,
        wrong=wrong,
        typed=typed or at.date().isoformat(),
        need_name=need_name,
        up=back,
        again=again,
        crew=crew,
    )
    return (page, SHOWN_AGAIN) if wrong else page


def day_asked_for(typed: str, asked: datetime, zone: ZoneInfo) -> tuple[datetime, str]:
    """The morning that is asked for, and what to say of a day that cannot be used."""
    today = asked.astimezone(zone).date()
    monday = today + timedelta(days=-today.weekday() % 7)
    try:
        on = date.fromisoformat(typed) if typed else monday
    except ValueError:
        on = date.min
    if today <= on <= today + timedelta(days=MOST_AHEAD):
        return datetime.combine(on, SIX, zone), ""
    said = gettext("Type a day from today on, within a year. For example: %(example)s")
    return datetime.combine(monday, SIX, zone), said % {"example": monday.isoformat()}
