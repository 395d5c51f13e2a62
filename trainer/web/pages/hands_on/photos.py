"""Photographs of a check: who leads the group sends and takes away, the learner looks."""

from __future__ import annotations

from flask import flash, redirect, render_template, url_for
from werkzeug.wrappers import Response

from trainer.accounts.access import NotAllowedError
from trainer.calc.message import InputError
from trainer.groups.check_photos import add_photo, own_photo, photo_seen_by, remove_photo, why_no_photo
from trainer.groups.signing import LedCheck, led_check
from trainer.web.forms import SHOWN_AGAIN
from trainer.web.language import gettext
from trainer.web.navigation import LEADERS
from trainer.web.pages.hands_on.blueprint import blueprint
from trainer.web.photos import MOST_READ, PHOTO_LIMITS, PhotoForm, sent_photograph
from trainer.web.security import reads_up_to
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading, writing
from trainer.web.visitors import Visitor, visitors

__all__ = ["add_check_photo", "check_photo", "check_photos", "own_check_photo", "remove_check_photo"]


@blueprint.get("/groups/<group_id>/checks/<check_id>/photos")
@visitors(*LEADERS)
def check_photos(group_id: str, check_id: str) -> str:
    """The photographs of a check, and the form for another one."""
    return _page(_led(group_id, check_id), PhotoForm(formdata=None))


@blueprint.post("/groups/<group_id>/checks/<check_id>/photos")
@visitors(*LEADERS)
@reads_up_to(MOST_READ)
def add_check_photo(group_id: str, check_id: str) -> Response | tuple[str, int]:
    """Add a photograph."""
    led, form = _led(group_id, check_id), PhotoForm()
    if why_not := why_no_photo(actor(), led.check, len(led.check.photos)):
        raise NotAllowedError(why_not)
    if form.validate_on_submit() and _added(group_id, check_id, form):
        flash(gettext("Added. The learner sees it with the check."), "done")
        return redirect(url_for("hands_on.check_photos", group_id=group_id, check_id=check_id), 303)
    return _page(led, form), SHOWN_AGAIN


@blueprint.post("/groups/<group_id>/checks/<check_id>/photos/<picture_id>/remove")
@visitors(*LEADERS)
def remove_check_photo(group_id: str, check_id: str, picture_id: str) -> Response:
    """Take a photograph away."""
    with writing() as session:
        remove_photo(session, actor(), group_id, check_id, picture_id, now=now())
    flash(gettext("Taken away for good."), "done")
    return redirect(url_for("hands_on.check_photos", group_id=group_id, check_id=check_id), 303)


@blueprint.get("/groups/<group_id>/checks/photos/<picture_id>.jpg")
@visitors(*LEADERS)
def check_photo(group_id: str, picture_id: str) -> Response:
    """A photograph itself."""
    with reading() as session:
        image = photo_seen_by(session, actor(), group_id, picture_id)
    return Response(image, mimetype="image/jpeg")


@blueprint.get("/checks/photos/<picture_id>.jpg")
@visitors(Visitor.SIGNED_IN)
def own_check_photo(picture_id: str) -> Response:
    """A photograph of a check of one's own."""
    with reading() as session:
        image = own_photo(session, actor(), picture_id)
    return Response(image, mimetype="image/jpeg")


def _led(group_id: str, check_id: str) -> LedCheck:
    # A write session on a GET: that somebody looked is noted, for the learner to see.
    with writing() as session:
        return led_check(session, actor(), group_id, check_id, now())


def _added(group_id: str, check_id: str, form: PhotoForm) -> bool:
    try:
        photograph = sent_photograph()
        with writing() as session:
            add_photo(session, actor(), group_id, check_id, photograph, shows=form.shows.data, now=now())
    except InputError as error:
        form.refuse_input(error)
        return False
    return True


def _page(led: LedCheck, form: PhotoForm) -> str:
    group, check = led.group.public_id, led.check.public_id
    return render_template(
        "hands_on/photos.html",
        group=led.group,
        check=led.check,
        form=form,
        limits=PHOTO_LIMITS,
        why_not=why_no_photo(actor(), led.check, len(led.check.photos)),
        photo_at=lambda one: url_for("hands_on.check_photo", group_id=group, picture_id=one),
        remove_at=lambda one: url_for("hands_on.remove_check_photo", group_id=group, check_id=check, picture_id=one),
    )
