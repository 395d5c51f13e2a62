"""Sitting beside a member at a watched proof run: at which one could, opening a sitting, leaving."""

from __future__ import annotations

from collections.abc import Mapping

from flask import flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from trainer.accounts.access import NotAllowedError
from trainer.groups.watching import end_watch, watch
from trainer.groups.watching import watching as watching_page
from trainer.progress.watching import SITTING_LASTS
from trainer.text.words import say
from trainer.web.content import library
from trainer.web.forms import SHOWN_AGAIN
from trainer.web.language import gettext, language
from trainer.web.pages.teach.blueprint import LEADERS, blueprint
from trainer.web.sessions import actor
from trainer.web.transactions import now, writing
from trainer.web.visitors import visitors

__all__ = ["stop_watching", "watch_run", "watching"]


@blueprint.get("/groups/<group_id>/people/<person_id>/watch")
@visitors(*LEADERS)
def watching(group_id: str, person_id: str) -> str:
    """At which runs of a member one could sit, and where somebody does."""
    return _page(group_id, person_id, {})


@blueprint.post("/groups/<group_id>/people/<person_id>/watch")
@visitors(*LEADERS)
def watch_run(group_id: str, person_id: str) -> Response | tuple[str, int]:
    """Open a sitting, after it was signed that one sits there."""
    skill = request.form.get("skill", "")
    errors = _missing(skill)
    if errors:
        return _page(group_id, person_id, errors), SHOWN_AGAIN
    try:
        with writing() as session:
            watch(session, library(), actor(), group_id, person_id, skill=skill, now=now())
    except NotAllowedError as refused:
        said = say(refused.reason, language())
        return _page(group_id, person_id, {"skill": f"{said[:1].upper()}{said[1:]}".rstrip(".") + "."}), SHOWN_AGAIN
    flash(gettext("The sitting is open. The questions come on the other screen now."), "done")
    return redirect(url_for("teach.watching", group_id=group_id, person_id=person_id), 303)


@blueprint.post("/groups/<group_id>/people/<person_id>/watch/<skill>/leave")
@visitors(*LEADERS)
def stop_watching(group_id: str, person_id: str, skill: str) -> Response:
    """End the sitting."""
    with writing() as session:
        is_shown = end_watch(session, actor(), group_id, person_id, skill=skill, now=now())
    flash(gettext("The sitting is ended. The run waits for the next one."), "done")
    # The page of runs is closed to who is not shown readiness; that of the member never is.
    onward = "teach.watching" if is_shown else "teach.member"
    return redirect(url_for(onward, group_id=group_id, person_id=person_id), 303)


def _missing(skill: str) -> dict[str, str]:
    errors = {}
    if skill not in library().skills:
        errors["skill"] = gettext("Choose the skill.")
    if "beside" not in request.form:
        errors["beside"] = gettext("Sign that you sit there. Without it nothing is watched.")
    return errors


def _page(group_id: str, person_id: str, errors: Mapping[str, str]) -> str:
    # A write session on a GET: that somebody looked is noted, for the member to see.
    with writing() as session:
        found = watching_page(session, library(), actor(), group_id, person_id, now=now())
    return render_template(
        "teach/watching.html",
        learner=found.learner,
        group=found.learner.group,
        open_ones=[one for one in found.skills if one.beside],
        to_begin=[one for one in found.skills if one.can_begin],
        waiting=[one for one in found.skills if one.waiting and not one.beside],
        shown=[one for one in found.skills if one.shown and not one.run and not one.waiting],
        chosen=request.values.get("skill", ""),
        is_own=found.learner.person_id == actor().person_id,
        minutes=round(SITTING_LASTS.total_seconds() / 60),
        errors=errors,
    )
