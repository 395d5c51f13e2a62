"""One member: assigned work, skills, the answers behind a skill, a single problem; each as far as it is shown."""

from __future__ import annotations

from flask import render_template

from trainer.groups.member import member as member_page
from trainer.groups.member import member_problem, member_skill
from trainer.web.content import library
from trainer.web.language import language
from trainer.web.pages.teach.blueprint import LEADERS, blueprint
from trainer.web.recorded import as_read, below_title
from trainer.web.sessions import actor
from trainer.web.transactions import now, writing
from trainer.web.visitors import visitors

__all__ = ["member", "problem", "skill"]

MOST_ANSWERS = 50

# Each of these writes on a GET: that somebody looked is noted, for the member to see.


@blueprint.get("/groups/<group_id>/people/<person_id>")
@visitors(*LEADERS)
def member(group_id: str, person_id: str) -> str:
    """What a member does in the group's work, and where the member stands if that is shown."""
    with writing() as session:
        found = member_page(session, library(), actor(), group_id, person_id, now=now())
    begun = [line for line in found.skills or () if line.counted]
    return render_template(
        "teach/member.html",
        learner=found.learner,
        group=found.learner.group,
        shares=found.shares,
        works=found.works,
        skills=found.skills,
        jobs=found.jobs,
        begun=[(line, below_title(line)) for line in begun],
        waiting=[line.title for line in found.skills or () if not line.counted],
        as_read=as_read,
        moment_now=now(),
    )


@blueprint.get("/groups/<group_id>/people/<person_id>/skills/<skill>")
@visitors(*LEADERS)
def skill(group_id: str, person_id: str, skill: str) -> str:
    """The answers behind one skill of a member, the newest first."""
    with writing() as session:
        found = member_skill(session, library(), actor(), group_id, person_id, skill=skill, now=now())
    return render_template(
        "teach/skill.html",
        found=found,
        group=found.learner.group,
        words=below_title(found.line),
        as_read=as_read,
        most=MOST_ANSWERS,
    )


@blueprint.get("/groups/<group_id>/people/<person_id>/problems/<problem_id>")
@visitors(*LEADERS)
def problem(group_id: str, person_id: str, problem_id: str) -> str:
    """A problem as it was, with every answer to it."""
    with writing() as session:
        found = member_problem(
            session,
            library(),
            actor(),
            group_id,
            person_id,
            problem_public_id=problem_id,
            now=now(),
            language=language(),
        )
    return render_template(
        "teach/problem.html",
        learner=found.learner,
        group=found.learner.group,
        page=found.page,
        typed=[as_read(found.page.family_id, attempt.typed) for attempt in found.page.attempts],
    )
