"""A class or crew: its work, its people, and the code to join it with."""

from __future__ import annotations

from flask import flash, redirect, render_template, url_for
from werkzeug.wrappers import Response

from trainer.accounts.sharing import STARTS_WITH, Shared
from trainer.groups.assigned import work_given_to
from trainer.groups.board import MemberLine, board
from trainer.groups.desk import begun_in
from trainer.groups.joining import leaders_of
from trainer.groups.membership import close_joining, open_joining, share_words
from trainer.web.content import library
from trainer.web.language import gettext
from trainer.web.pages.teach.blueprint import LEADERS, blueprint
from trainer.web.sessions import actor
from trainer.web.transactions import now, writing
from trainer.web.visitors import visitors

__all__ = ["close_code", "group", "open_code"]


@blueprint.get("/groups/<group_id>")
@visitors(*LEADERS)
def group(group_id: str) -> str:
    """All of it on one page, the work that is due first."""
    # A write session on a GET: that somebody looked is noted, for the members to see.
    with writing() as session:
        found = board(session, library(), actor(), group_id, now())
        works = work_given_to(session, actor(), group_id)
        begun = begun_in(session, [found.group.id])
        leaders = leaders_of(session, found.group)
    starts = STARTS_WITH[found.group.kind]
    return render_template(
        "teach/group.html",
        group=found.group,
        members=found.members,
        counted={member.person: _counted(member) for member in found.members},
        leaders=leaders,
        due=[work for work in reversed(works) if not work.withdrawn and work.due_at > now()],
        past=[work for work in works if work.withdrawn or work.due_at <= now()],
        begun=begun,
        shared=[share_words(what) for what in starts],
        kept=[share_words(what) for what in Shared if what not in starts],
    )


@blueprint.post("/groups/<group_id>/code")
@visitors(*LEADERS)
def open_code(group_id: str) -> Response:
    """Let people join by a new code."""
    with writing() as session:
        open_joining(session, actor(), group_id, now())
    flash(gettext("It can be joined with the code on this page. An older code opens nothing any more."), "done")
    return redirect(url_for("teach.group", group_id=group_id, _anchor="joining"), 303)


@blueprint.post("/groups/<group_id>/code/close")
@visitors(*LEADERS)
def close_code(group_id: str) -> Response:
    """Let nobody join any more."""
    with writing() as session:
        close_joining(session, actor(), group_id, now())
    flash(gettext("Joining is closed. Who is in it stays in it."), "done")
    return redirect(url_for("teach.group", group_id=group_id, _anchor="joining"), 303)


def _counted(member: MemberLine) -> tuple[int, int]:
    """How many skills a member has begun, and with how many answers."""
    begun = [line.counted for line in member.skills or () if line.counted]
    return len(begun), sum(begun)
