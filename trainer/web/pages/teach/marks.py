"""Points of one person at a piece of work, set by hand or taken back; and the results of all to take along."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from flask import Response as File
from flask import flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response
from wtforms import StringField

from trainer.accounts.access import NotFoundError
from trainer.calc.message import InputError
from trainer.groups.marks import AS_WORKED_OUT, CHOICES, person_work, result_rows, set_marks
from trainer.groups.points import points_rule
from trainer.web.content import library
from trainer.web.downloads import as_csv, as_xlsx
from trainer.web.forms import SHOWN_AGAIN, Filled, SiteForm, refusal
from trainer.web.language import Later, gettext
from trainer.web.pages.teach.blueprint import LEADERS, blueprint
from trainer.web.recorded import as_read
from trainer.web.sessions import actor
from trainer.web.transactions import now, writing
from trainer.web.visitors import visitors

__all__ = ["person_points", "results_out", "set_points"]

WRITERS = {"csv": as_csv, "xlsx": as_xlsx}
#: What a field of points is called: no work has a question of four digits.
POINTS = re.compile(r"points-([0-9]{1,3})")


class MarksForm(SiteForm):
    """Why points are set; the points themselves stand beside each question."""

    reason = StringField(validators=[Filled(Later("Write why, in a line. The learner reads it."))])


@blueprint.get("/given/<work_id>/people/<person_id>")
@visitors(*LEADERS)
def person_points(work_id: str, person_id: str) -> str:
    """Question by question what counts, and why."""
    return _page(work_id, person_id, MarksForm(formdata=None))


@blueprint.post("/given/<work_id>/people/<person_id>")
@visitors(*LEADERS)
def set_points(work_id: str, person_id: str) -> Response | tuple[str, int]:
    """Set points, or take back what was set."""
    form, wanted = MarksForm(), _wanted()
    wrong: list[tuple[str, str]] = []
    if form.validate_on_submit():
        more = {"wanted": wanted, "reason": form.reason.data, "now": now()}
        try:
            with writing() as session:
                changed = set_marks(session, library(), actor(), work_id, person_id, **more)
        except InputError as error:
            wrong = _put_on(form, wanted, error)
        else:
            done = gettext("Set. The learner reads it with your reason.")
            flash(done if changed else gettext("Nothing was changed."), "done")
            return redirect(url_for("teach.person_points", work_id=work_id, person_id=person_id), 303)
    return _page(work_id, person_id, form, wrong), SHOWN_AGAIN


@blueprint.get("/given/<work_id>/out/<kind>")
@visitors(*LEADERS)
def results_out(work_id: str, kind: str) -> File:
    """The results as a file: a row for each person."""
    if kind not in WRITERS:
        raise NotFoundError
    # A write session on a GET: that the results were taken along is noted, for the learners to see.
    with writing() as session:
        title, columns, rows = result_rows(session, library(), actor(), work_id, now())
    return WRITERS[kind](f"{title} results", columns, rows)


def _wanted() -> dict[int, str]:
    """What was chosen, by line."""
    named = ((POINTS.fullmatch(name), value) for name, value in request.form.items())
    return {int(name[1]): value for name, value in named if name}


def _put_on(form: MarksForm, wanted: Mapping[int, str], error: InputError) -> list[tuple[str, str]]:
    """What is wrong with the points, as the error summary takes it; nothing where the form says what is wrong."""
    if error.field == "points":
        nth = min(nth for nth, value in wanted.items() if value not in (AS_WORKED_OUT, *CHOICES))
        return [(f"points-{nth}", refusal(error))]
    form.refuse_input(error)
    return []


def _page(work_id: str, person_id: str, form: MarksForm, wrong: Sequence[tuple[str, str]] = ()) -> str:
    with writing() as session:
        found = person_work(session, library(), actor(), work_id, person_id, now=now())
    chosen = {
        line.position: request.form.get(f"points-{line.position}", _choice(points.mark.points if points.mark else None))
        for line, points in zip(found.lines, found.points.lines, strict=True)
    }
    return render_template(
        "teach/marks.html",
        found=found,
        work=found.work,
        group=found.work.group,
        learner=found.learner,
        rows=list(zip(found.lines, found.best, found.points.lines, strict=True)),
        rule=points_rule(found.work.kind),
        chosen=chosen,
        choices=(AS_WORKED_OUT, *CHOICES),
        form=form,
        look_again=[*wrong, *form.sentences],
        as_read=as_read,
    )


def _choice(points: float | None) -> str:
    """How the form sends these points."""
    return next((name for name, value in CHOICES.items() if value == points), AS_WORKED_OUT)
