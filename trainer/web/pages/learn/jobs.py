"""The job types of the own crews: what is ready, what is missing, what comes next."""

from __future__ import annotations

from flask import render_template

from trainer.groups.ready_board import own_jobs
from trainer.progress.needs import Ready
from trainer.web.content import library
from trainer.web.pages.jobs.blueprint import need_name
from trainer.web.pages.learn.blueprint import blueprint
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading
from trainer.web.visitors import Visitor, visitors

__all__ = ["jobs"]


@blueprint.get("/jobs")
@visitors(Visitor.SIGNED_IN)
def jobs() -> str:
    """How one stands with each job type of the shops and schools that one learns in."""
    with reading() as session:
        found = own_jobs(session, library(), actor(), now())
    return render_template("learn/jobs.html", shops=found, states=Ready, need_name=need_name)
