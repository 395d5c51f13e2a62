"""A new password for a learner at the desk."""

from __future__ import annotations

from flask import Response, render_template

from trainer.groups.at_desk import reset_at_desk, who_is_at_desk
from trainer.web.pages.teach.blueprint import LEADERS, blueprint
from trainer.web.security import shown_once
from trainer.web.sessions import actor, passwords
from trainer.web.transactions import now, reading, writing
from trainer.web.visitors import visitors

__all__ = ["ask_for_password", "new_password"]


@blueprint.get("/groups/<group_id>/people/<person_id>/password")
@visitors(*LEADERS)
def ask_for_password(group_id: str, person_id: str) -> str:
    """What a new password means, or why none may be given here."""
    with reading() as session:
        found = who_is_at_desk(session, actor(), group_id, person_id)
    return render_template(
        "teach/password.html", learner=found.learner, group=found.learner.group, why_not=found.why_not
    )


@blueprint.post("/groups/<group_id>/people/<person_id>/password")
@visitors(*LEADERS)
def new_password(group_id: str, person_id: str) -> Response:
    """Give it, and show it this once."""
    with writing() as session:
        found, once = reset_at_desk(session, actor(), group_id, person_id, now(), passwords=passwords())
    page = render_template(
        "teach/password_once.html",
        learner=found.learner,
        group=found.learner.group,
        sign_in_name=found.sign_in_name,
        password=once,
    )
    return shown_once(page)
