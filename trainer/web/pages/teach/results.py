"""What came of assigned work: which slips the group makes, who answered what, and taking the work back."""

from __future__ import annotations

from flask import flash, redirect, render_template, url_for
from werkzeug.wrappers import Response

from trainer.accounts.access import NotFoundError, assigned_work_led_by
from trainer.groups.assigned import withdraw as take_back
from trainer.groups.points import points_rule
from trainer.groups.results import WorkResults
from trainer.groups.results import results as results_of
from trainer.progress.called import called
from trainer.web.content import library
from trainer.web.language import gettext
from trainer.web.pages.teach.blueprint import LEADERS, blueprint
from trainer.web.recorded import as_read
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading, writing
from trainer.web.visitors import visitors

__all__ = ["ask_to_withdraw", "results", "results_of_line", "withdraw"]


@blueprint.get("/given/<work_id>")
@visitors(*LEADERS)
def results(work_id: str) -> str:
    """The slips first, then question by question and person by person."""
    found = _found(work_id)
    listed = [person for person in found.people if person.has_begun or person.points.marked]
    return render_template(
        "teach/results.html",
        work=found.work,
        group=found.work.group,
        lines=found.lines,
        tally=found.tally,
        listed=listed,
        begun=sum(person.has_begun and person.is_member for person in found.people),
        waiting=[person for person in found.people if person not in listed and person.is_member],
        people=sum(person.is_member for person in found.people),
        is_past=found.work.due_at <= now(),
        rule=points_rule(found.work.kind),
        as_read=as_read,
        called=_called,
    )


@blueprint.get("/given/<work_id>/lines/<int:position>")
@visitors(*LEADERS)
def results_of_line(work_id: str, position: int) -> str:
    """One question: what each person answered first, and what came of it."""
    found = _found(work_id)
    line = next((line for line in found.lines if line.position == position), None)
    if line is None:
        raise NotFoundError
    return render_template(
        "teach/results_line.html",
        work=found.work,
        group=found.work.group,
        line=line,
        lines=len(found.lines),
        tally=[one for one in found.tally if one.family_id == line.family_id],
        people=[(person, person.lines[position - 1]) for person in found.people],
        as_read=as_read,
        called=_called,
    )


def _called(family_id: str, mistake: str) -> str:
    return called(mistake, library().families.get(family_id))


@blueprint.get("/given/<work_id>/withdraw")
@visitors(*LEADERS)
def ask_to_withdraw(work_id: str) -> str:
    """What taking it back means."""
    with reading() as session:
        work = assigned_work_led_by(session, actor(), work_id)
    return render_template("teach/withdraw.html", work=work, group=work.group)


@blueprint.post("/given/<work_id>/withdraw")
@visitors(*LEADERS)
def withdraw(work_id: str) -> Response:
    """Take it back."""
    with writing() as session:
        work = assigned_work_led_by(session, actor(), work_id)
        take_back(session, actor(), work_id, now())
    flash(gettext("%(work)s is taken back.") % {"work": work.title}, "done")
    return redirect(url_for("teach.group", group_id=work.group.public_id), 303)


def _found(work_id: str) -> WorkResults:
    # A write session on a GET: that somebody looked is noted, for the learners to see.
    with writing() as session:
        return results_of(session, library(), actor(), work_id, now())
