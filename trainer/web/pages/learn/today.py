"""What to do in the next ten minutes, and why."""

from __future__ import annotations

from flask import render_template

from trainer.groups.claims import replies_to
from trainer.groups.learner_work import due_work
from trainer.progress import today as progress
from trainer.web.content import library
from trainer.web.pages.learn.blueprint import blueprint
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading
from trainer.web.visitors import Visitor, visitors

__all__ = ["today"]


@blueprint.get("/today")
@visitors(Visitor.SIGNED_IN)
def today() -> str:
    """One thing first, then the others."""
    with reading() as session:
        due = due_work(session, library(), actor(), now())
        found = progress.today(session, library(), actor().person_id, now(), due=due)
        replies = replies_to(session, library(), actor(), now())
    works = {work.work: work for work in due}
    return render_template("learn/today.html", found=found, works=works, replies=replies, actor=actor())
