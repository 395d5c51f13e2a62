"""One member and one job type: the evidence, and a first two weeks as a plan."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from flask import render_template

from trainer.groups.ready_board import person_ready
from trainer.groups.run_answers import run_answers
from trainer.progress.lessons import lessons_read
from trainer.progress.needs import Ready, SkillNeed
from trainer.progress.plan import plan
from trainer.web.content import library
from trainer.web.pages.jobs.answers import SIX
from trainer.web.pages.jobs.blueprint import blueprint, need_name
from trainer.web.pages.teach.blueprint import LEADERS
from trainer.web.sessions import actor
from trainer.web.transactions import now, writing
from trainer.web.visitors import visitors

__all__ = ["person", "two_weeks"]

# Each of these writes on a GET: that somebody looked is noted, for the members to see.


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
