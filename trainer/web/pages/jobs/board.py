"""The board of a crew by job type, and who of it can go on a day."""

from __future__ import annotations

from flask import render_template, request, url_for

from trainer.groups.ready_board import ready_board
from trainer.web.content import library
from trainer.web.language import gettext
from trainer.web.pages.jobs.answers import answers, day_asked_for, job_page
from trainer.web.pages.jobs.blueprint import blueprint
from trainer.web.pages.teach.blueprint import LEADERS
from trainer.web.sessions import actor
from trainer.web.transactions import now, writing
from trainer.web.visitors import visitors

__all__ = ["board", "job"]

# Each of these writes on a GET: that somebody looked is noted, for the members to see.


@blueprint.get("/groups/<group_id>/board")
@visitors(*LEADERS)
def board(group_id: str) -> str:
    """Who is ready for what, what goes stale, and what would make the most people ready soonest."""
    with writing() as session:
        found = ready_board(session, library(), actor(), group_id, now=now())
    return render_template(
        "jobs/board.html",
        group=found.group,
        organisation=found.group.organisation,
        job_href=lambda job: url_for("jobs.job", group_id=group_id, job_id=job),
        **answers(found, found.group.organisation),
    )


@blueprint.get("/groups/<group_id>/board/<job_id>")
@visitors(*LEADERS)
def job(group_id: str, job_id: str) -> str | tuple[str, int]:
    """Who can go on this job on a day: the next Monday, unless another one is asked for."""
    typed = request.args.get("on", "").strip()
    asked = now()
    with writing() as session:
        found = ready_board(
            session,
            library(),
            actor(),
            group_id,
            now=asked,
            when=lambda zone: day_asked_for(typed, asked, zone)[0],
            job=job_id,
        )
    return job_page(
        found,
        found.group.organisation,
        found.job(job_id),
        back=(
            gettext("Who is ready: %(group)s") % {"group": found.group.name},
            url_for("jobs.board", group_id=group_id),
        ),
        again=url_for("jobs.job", group_id=group_id, job_id=job_id),
    )
