"""The job types of a school or shop, for its owner: copied, edited, ended."""

from __future__ import annotations

from flask import flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from trainer.accounts.access import NotFoundError
from trainer.calc.message import InputError
from trainer.groups.job_types import FEWEST_SKILLS, MOST_SKILLS, copy_ready_made, end_job_type, job_types, keep
from trainer.groups.ready_made import JobTypeText, ready_made
from trainer.problems.hands_on import KINDS
from trainer.progress.points import LINES, Line
from trainer.web.content import library
from trainer.web.forms import SHOWN_AGAIN, refusal
from trainer.web.language import gettext
from trainer.web.pages.jobs.blueprint import blueprint
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading, writing
from trainer.web.units import by_unit
from trainer.web.visitors import Visitor, visitors

__all__ = ["copy", "edit", "end", "listed", "new", "save", "save_new"]

MOST_TYPED = 400
EMPTY = JobTypeText("", "", "", watched=True, valid_days=365, trade_sizes=(), skills={}, checks=())


@blueprint.get("/organisations/<organisation_id>/job-types")
@visitors(Visitor.OWNER)
def listed(organisation_id: str) -> str:
    """The job types there are, and the ready-made ones to copy."""
    return _list(organisation_id)


@blueprint.post("/organisations/<organisation_id>/job-types/copies/<ready>")
@visitors(Visitor.OWNER)
def copy(organisation_id: str, ready: str) -> Response | tuple[str, int]:
    """Copy a ready-made one, and show it to be edited."""
    try:
        with writing() as session:
            job = copy_ready_made(session, actor(), organisation_id, ready, now())
    except InputError as error:
        return _list(organisation_id, refusal(error)), SHOWN_AGAIN
    flash(gettext("Copied. Edit it until it says what your shop means."), "done")
    return redirect(url_for("jobs.edit", organisation_id=organisation_id, job_id=job), 303)


@blueprint.get("/organisations/<organisation_id>/job-types/new")
@visitors(Visitor.OWNER)
def new(organisation_id: str) -> str:
    """An empty one to fill in."""
    return _form(organisation_id, None, EMPTY)


@blueprint.post("/organisations/<organisation_id>/job-types/new")
@visitors(Visitor.OWNER)
def save_new(organisation_id: str) -> Response | tuple[str, int]:
    """Add one."""
    return _save(organisation_id, None)


@blueprint.get("/organisations/<organisation_id>/job-types/<job_id>")
@visitors(Visitor.OWNER)
def edit(organisation_id: str, job_id: str) -> str:
    """One job type to be edited."""
    return _form(organisation_id, job_id, None)


@blueprint.post("/organisations/<organisation_id>/job-types/<job_id>")
@visitors(Visitor.OWNER)
def save(organisation_id: str, job_id: str) -> Response | tuple[str, int]:
    """Change one."""
    return _save(organisation_id, job_id)


@blueprint.post("/organisations/<organisation_id>/job-types/<job_id>/end")
@visitors(Visitor.OWNER)
def end(organisation_id: str, job_id: str) -> Response:
    """Take one off the board."""
    with writing() as session:
        end_job_type(session, actor(), organisation_id, job_id, now())
    flash(gettext("It is off the board. What people have shown stays theirs."), "done")
    return redirect(url_for("jobs.listed", organisation_id=organisation_id), 303)


def _save(organisation_id: str, job_id: str | None) -> Response | tuple[str, int]:
    text = _sent()
    try:
        with writing() as session:
            keep(session, actor(), organisation_id, job_id, text=text, now=now())
    except InputError as error:
        return _form(organisation_id, job_id, text, {error.field or "name": refusal(error)}), SHOWN_AGAIN
    flash(gettext("Kept. The boards go by it from now on."), "done")
    return redirect(url_for("jobs.listed", organisation_id=organisation_id), 303)


def _sent() -> JobTypeText:
    """The form as it was sent; a validity that is no whole number is one that cannot be used."""
    form = request.form
    days = form.get("valid_days", "").strip()
    chosen = {skill: form.get(f"skill:{skill}", "") for skill in library().skills}
    return JobTypeText(
        name=form.get("name", "")[:MOST_TYPED],
        about=form.get("about", "")[: 2 * MOST_TYPED],
        supervision=form.get("supervision", "")[: 2 * MOST_TYPED],
        watched="watched" in form,
        valid_days=None if not days else int(days) if days.isdecimal() and len(days) < 6 else 0,
        trade_sizes=tuple(size for size in _sizes() if size in form.getlist("trade_sizes")),
        skills={skill: Line(line) for skill, line in chosen.items() if line in {*Line}},
        checks=tuple(kind for kind in KINDS if kind in form.getlist("checks")),
        registration=form.get("registration", "")[:MOST_TYPED],
    )


def _list(organisation_id: str, error: str = "") -> str:
    with reading() as session:
        organisation, kept = job_types(session, actor(), organisation_id)
    names = {one.text.name for one in kept}
    offered = {name: text for name, text in ready_made().items() if text.name not in names}
    return render_template(
        "jobs/types.html",
        organisation=organisation,
        kept=kept,
        offered=offered,
        skills=library().skills,
        kinds=KINDS,
        error=error,
    )


def _form(
    organisation_id: str, job_id: str | None, text: JobTypeText | None, errors: dict[str, str] | None = None
) -> str:
    with reading() as session:
        organisation, kept = job_types(session, actor(), organisation_id)
    found = next((one for one in kept if one.job == job_id), None)
    if job_id is not None and found is None:
        raise NotFoundError
    text = text or (found.text if found else EMPTY)
    asked = [skill for skill in library().skills.values() if library().asks(skill.id) or skill.id in text.skills]
    return render_template(
        "jobs/edit.html",
        organisation=organisation,
        found=found,
        text=text,
        # As typed where it is to be mended: what is no number of days stands in no text.
        days=request.form.get("valid_days", "")[:MOST_TYPED] if errors else text.valid_days,
        errors=errors or {},
        units=by_unit(asked),
        sizes=_sizes(),
        kinds=KINDS.values(),
        lines=Line,
        terms=LINES,
        fewest=FEWEST_SKILLS,
        most=MOST_SKILLS,
    )


def _sizes() -> tuple[str, ...]:
    """Trade sizes that an owner can tick: those that a hands-on check is set in, and what is fished in by feeders."""
    return tuple(dict.fromkeys(size for kind in KINDS.values() for size in kind.sizes))
