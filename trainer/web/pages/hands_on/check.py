"""One check for a leader: filled in beside the bench, signed, put aside, withdrawn."""

from __future__ import annotations

from flask import abort, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from trainer.calc.message import InputError
from trainer.groups.check_photos import why_no_photo
from trainer.groups.hands_on import drop
from trainer.groups.signing import LedCheck, led_check, sign, withdraw
from trainer.problems.hands_on import FORGIVEN_STEPS, pictured
from trainer.web.forms import SHOWN_AGAIN, refusal
from trainer.web.language import gettext, language
from trainer.web.navigation import LEADERS
from trainer.web.pages.hands_on.blueprint import as_measured, blueprint, inches, last_day, wanted
from trainer.web.pages.hands_on.filled import FilledSheet, measure_field, read_filled, step_field
from trainer.web.sessions import actor
from trainer.web.transactions import now, writing
from trainer.web.visitors import visitors

__all__ = ["ask_to_withdraw", "put_aside", "sign_it", "take_back", "to_sign"]


@blueprint.get("/groups/<group_id>/checks/<check_id>")
@visitors(*LEADERS)
def to_sign(group_id: str, check_id: str) -> str:
    """The task, the marks that the core works out, and the form; or what was signed."""
    return _page(_led(group_id, check_id), FilledSheet())


@blueprint.post("/groups/<group_id>/checks/<check_id>")
@visitors(*LEADERS)
def sign_it(group_id: str, check_id: str) -> Response | tuple[str, int]:
    """Sign it, passed or not."""
    led = _led(group_id, check_id)
    filled = read_filled(led.check.sheet, request.form)
    if filled.errors and led.may_sign:
        return _page(led, filled), SHOWN_AGAIN
    with writing() as session:
        judged = sign(
            session,
            actor(),
            group_id,
            check_id,
            measured=filled.measured,
            steps=filled.steps,
            remark=filled.remark,
            now=now(),
        )
    who = {"name": led.check.display_name, "kind": led.check.sheet.title}
    said = (
        gettext("Signed: %(name)s, %(kind)s, passed.")
        if judged.passed
        else gettext("Signed: %(name)s, %(kind)s, not passed.")
    )
    flash(said % who, "done")
    return redirect(url_for("hands_on.night", group_id=group_id), 303)


@blueprint.post("/groups/<group_id>/checks/<check_id>/aside")
@visitors(*LEADERS)
def put_aside(group_id: str, check_id: str) -> Response:
    """Put an unsigned check aside."""
    with writing() as session:
        drop(session, actor(), group_id, check_id, now())
    flash(gettext("Put aside. It counts for nothing."), "done")
    return redirect(url_for("hands_on.night", group_id=group_id), 303)


@blueprint.get("/groups/<group_id>/checks/<check_id>/withdraw")
@visitors(*LEADERS)
def ask_to_withdraw(group_id: str, check_id: str) -> str:
    """What withdrawing means, and the reason."""
    led = _led(group_id, check_id)
    return _withdrawing(led) if led.may_withdraw else abort(404)


@blueprint.post("/groups/<group_id>/checks/<check_id>/withdraw")
@visitors(*LEADERS)
def take_back(group_id: str, check_id: str) -> Response | tuple[str, int]:
    """Withdraw a signed check."""
    reason = request.form.get("reason", "")
    try:
        with writing() as session:
            withdraw(session, actor(), group_id, check_id, reason=reason, now=now())
    except InputError as error:
        return _withdrawing(_led(group_id, check_id), reason, refusal(error)), SHOWN_AGAIN
    flash(gettext("Withdrawn. What was signed stays to be read, and counts no longer."), "done")
    return redirect(url_for("hands_on.to_sign", group_id=group_id, check_id=check_id), 303)


def _led(group_id: str, check_id: str) -> LedCheck:
    # A write session on a GET: that somebody looked is noted, for the learner to see.
    with writing() as session:
        return led_check(session, actor(), group_id, check_id, now())


def _page(led: LedCheck, filled: FilledSheet) -> str:
    return render_template(
        "hands_on/check.html",
        led=led,
        group=led.group,
        check=led.check,
        sheet=led.check.sheet,
        drawn=pictured(led.check.sheet, language=language(), key="task"),
        filled=filled,
        forgiven=FORGIVEN_STEPS,
        measure_field=measure_field,
        step_field=step_field,
        wanted=wanted,
        inches=inches,
        as_measured=as_measured,
        last_day=last_day,
        may_add_photo=why_no_photo(actor(), led.check, len(led.check.photos)) is None,
        photo_at=lambda picture: url_for("hands_on.check_photo", group_id=led.group.public_id, picture_id=picture),
    )


def _withdrawing(led: LedCheck, reason: str = "", error: str = "") -> str:
    return render_template("hands_on/withdraw.html", led=led, check=led.check, reason=reason, error=error)
