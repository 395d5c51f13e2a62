"""The board of a crew by job type; who can go on a day; one person's evidence; a first two weeks as a plan."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from flask import render_template, request

from trainer.groups.ready_board import going_stale, person_ready, ready_board, soonest
from trainer.groups.run_answers import run_answers
from trainer.progress.lessons import lessons_read
from trainer.progress.needs import Ready, SkillNeed
from trainer.progress.plan import plan
from trainer.web.content import library
from trainer.web.forms import SHOWN_AGAIN
from trainer.web.language import gettext
from trainer.web.pages.jobs.blueprint import blueprint, need_name
from trainer.web.pages.teach.blueprint import LEADERS
from trainer.web.sessions import actor
from trainer.web.transactions import now, writing
from trainer.web.visitors import visitors

__all__ = ["board", "job", "person", "two_weeks"]

SIX = time(6)
"""When a job begins, for what holds on a day."""

MOST_AHEAD = 365

# Each of these writes on a GET: that somebody looked is noted, for the members to see.


@blueprint.get("/groups/<group_id>/board")
@visitors(*LEADERS)
def board(group_id: str) -> str:
    """Who is ready for what, what goes stale, and what would make the most people ready soonest."""
    with writing() as session:
        found = ready_board(session, library(), actor(), group_id, now=now())
    owns = any(one.organisation_public_id == found.group.organisation.public_id for one in actor().owns)
    return render_template(
        "jobs/board.html",
        board=found,
        group=found.group,
        states=Ready,
        stale=going_stale(found),
        moves=soonest(found),
        need_name=need_name,
        owns=owns,
    )


@blueprint.get("/groups/<group_id>/board/<job_id>")
@visitors(*LEADERS)
def job(group_id: str, job_id: str) -> str | tuple[str, int]:
    """Who can go on this job on a day: the next Monday, unless another one is asked for."""
    typed = request.args.get("on", "").strip()
    asked = now()
    with writing() as session:
        found = ready_board(
            session, library(), actor(), group_id, now=asked, when=lambda zone: _day(typed, asked, zone)[0]
        )
    at, wrong = _day(typed, asked, ZoneInfo(found.group.organisation.time_zone))
    page = render_template(
        "jobs/job.html",
        board=found,
        group=found.group,
        job=found.job(job_id),
        states=Ready,
        at=at,
        wrong=wrong,
        typed=typed or at.date().isoformat(),
        need_name=need_name,
    )
    return (page, SHOWN_AGAIN) if wrong else page


@blueprint.get("/groups/<group_id>/board/<job_id>/people/<person_id>")
@visitors(*LEADERS)
def person(group_id: str, job_id: str, person_id: str) -> str:
    """How a member stands with a job type, part by part, down to the single answers."""
    with writing() as session:
        learner, found = person_ready(session, library(), actor(), group_id, person_id, job=job_id, now=now())
        answers = run_answers(session, library(), learner, [need.skill for need in found.need.skills])
    return render_template(
        "jobs/person.html",
        learner=learner,
        group=learner.group,
        found=found,
        states=Ready,
        answers=answers,
        need_name=need_name,
    )


@blueprint.get("/groups/<group_id>/board/<job_id>/people/<person_id>/plan")
@visitors(*LEADERS)
def two_weeks(group_id: str, job_id: str, person_id: str) -> str:
    """Two weeks of working days that lead a member to the job type, from today on."""
    with writing() as session:
        learner, found = person_ready(session, library(), actor(), group_id, person_id, job=job_id, now=now())
        read = lessons_read(session, learner.person_id)
    zone = ZoneInfo(learner.group.organisation.time_zone)
    skills = [part.need.skill for part in found.missing if isinstance(part.need, SkillNeed)]
    lessons = {
        skill: [
            (lesson.id, lesson.title)
            for lesson in library().lessons_of(skill)
            if lesson.id not in read and (not lesson.later or library().is_later(skill))
        ]
        for skill in skills
    }
    planned = plan(found, lessons, now().astimezone(zone).date())
    days = [(datetime.combine(day.day, SIX, zone), day.tasks) for day in planned.days]
    return render_template(
        "jobs/plan.html",
        learner=learner,
        group=learner.group,
        found=found,
        days=days,
        left=planned.left,
        states=Ready,
        need_name=need_name,
    )


def _day(typed: str, asked: datetime, zone: ZoneInfo) -> tuple[datetime, str]:
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
