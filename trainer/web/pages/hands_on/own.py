"""The own hands-on checks: what is set, and what was measured and signed."""

from __future__ import annotations

from flask import abort, render_template, url_for

from trainer.groups.shoes import bench_of
from trainer.problems.hands_on import KINDS, pictured
from trainer.progress.hands_on import own_checks
from trainer.web.language import language
from trainer.web.pages.hands_on.blueprint import as_measured, asked_before, blueprint, inches, last_day, wanted
from trainer.web.sessions import actor
from trainer.web.transactions import reading
from trainer.web.visitors import Visitor, visitors

__all__ = ["own", "own_one"]


@blueprint.get("/checks")
@visitors(Visitor.SIGNED_IN)
def own() -> str:
    """All of them, the newest first."""
    with reading() as session:
        checks = own_checks(session, actor().person_id)
    return render_template("hands_on/own.html", checks=checks)


@blueprint.get("/checks/<check_id>")
@visitors(Visitor.SIGNED_IN)
def own_one(check_id: str) -> str:
    """One: the task with the limits; the marks and what was measured once it is signed."""
    with reading() as session:
        check = next((one for one in own_checks(session, actor().person_id) if one.public_id == check_id), None)
        closed = bench_of(session, actor()).closed
    if check is None:
        abort(404)
    kind = KINDS.get(check.sheet.kind)
    return render_template(
        "hands_on/own_one.html",
        check=check,
        sheet=check.sheet,
        drawn=pictured(check.sheet, language=language(), key="task"),
        # The marks are the core's help: none before the check is signed, none while a proof run's question is open.
        with_marks=bool(check.signings) and not closed,
        wanted=wanted,
        asked=asked_before,
        cautions=kind.cautions if kind else (),
        inches=inches,
        as_measured=as_measured,
        last_day=last_day,
        photo_at=lambda picture: url_for("hands_on.own_check_photo", picture_id=picture),
    )
