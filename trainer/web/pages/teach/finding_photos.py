"""Photographs of what the job showed: a phone sends one, whoever leads the group takes it away again."""

from __future__ import annotations

from collections.abc import Callable

from flask import flash, redirect, render_template, url_for
from werkzeug.wrappers import Response

from trainer.accounts.access import NotAllowedError
from trainer.calc.message import InputError
from trainer.groups.finding_photos import PhotosPage, add_photo, photo_seen_by, photos_page, remove_photo
from trainer.web.content import library
from trainer.web.forms import SHOWN_AGAIN
from trainer.web.language import gettext
from trainer.web.pages.teach.blueprint import LEADERS, blueprint
from trainer.web.photos import MOST_READ, PHOTO_LIMITS, PhotoForm, sent_photograph
from trainer.web.security import reads_up_to
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading, writing
from trainer.web.visitors import visitors

__all__ = ["add_finding_photo", "finding_photo", "finding_photos", "photo_at", "remove_finding_photo"]


@blueprint.get("/groups/<group_id>/people/<person_id>/findings/<finding_id>/photos")
@visitors(*LEADERS)
def finding_photos(group_id: str, person_id: str, finding_id: str) -> str:
    """The photographs of a finding, and the form for another one."""
    return _page(_found(group_id, person_id, finding_id), PhotoForm(formdata=None))


@blueprint.post("/groups/<group_id>/people/<person_id>/findings/<finding_id>/photos")
@visitors(*LEADERS)
@reads_up_to(MOST_READ)
def add_finding_photo(group_id: str, person_id: str, finding_id: str) -> Response | tuple[str, int]:
    """Add a photograph."""
    found, form = _found(group_id, person_id, finding_id), PhotoForm()
    if found.why_not:
        raise NotAllowedError(found.why_not)
    if form.validate_on_submit() and _added(group_id, finding_id, form):
        flash(gettext("Added. The person sees it under Record."), "done")
        return redirect(_here(group_id, person_id, finding_id), 303)
    return _page(found, form), SHOWN_AGAIN


@blueprint.post("/groups/<group_id>/people/<person_id>/findings/<finding_id>/photos/<photo_id>/remove")
@visitors(*LEADERS)
def remove_finding_photo(group_id: str, person_id: str, finding_id: str, photo_id: str) -> Response:
    """Take a photograph away."""
    # The address has to be that of the finding's own page, as for everything else below it.
    _found(group_id, person_id, finding_id)
    with writing() as session:
        remove_photo(session, actor(), group_id, finding_id, photo_id, now=now())
    flash(gettext("Taken away for good."), "done")
    return redirect(_here(group_id, person_id, finding_id), 303)


@blueprint.get("/groups/<group_id>/people/<person_id>/findings/<photo_id>.jpg")
@visitors(*LEADERS)
def finding_photo(group_id: str, person_id: str, photo_id: str) -> Response:
    """A photograph itself."""
    with reading() as session:
        image = photo_seen_by(session, actor(), group_id, person_id, photo_id)
    return Response(image, mimetype="image/jpeg")


def photo_at(group_id: str, person_id: str) -> Callable[[str], str]:
    """What gives the address of a photograph from its id."""
    return lambda photo_id: url_for("teach.finding_photo", group_id=group_id, person_id=person_id, photo_id=photo_id)


def _here(group_id: str, person_id: str, finding_id: str) -> str:
    return url_for("teach.finding_photos", group_id=group_id, person_id=person_id, finding_id=finding_id)


def _added(group_id: str, finding_id: str, form: PhotoForm) -> bool:
    try:
        photograph = sent_photograph()
        with writing() as session:
            add_photo(session, actor(), group_id, finding_id, photograph, shows=form.shows.data, now=now())
    except InputError as error:
        form.refuse_input(error)
        return False
    return True


def _found(group_id: str, person_id: str, finding_id: str) -> PhotosPage:
    with reading() as session:
        return photos_page(session, actor(), group_id, person_id, finding_id)


def _page(found: PhotosPage, form: PhotoForm) -> str:
    learner, finding = found.learner, found.finding
    return render_template(
        "teach/finding_photos.html",
        learner=learner,
        group=learner.group,
        finding=finding,
        why_not=found.why_not,
        title=library().skills[finding.skill].title if finding.skill in library().skills else finding.skill,
        form=form,
        limits=PHOTO_LIMITS,
        photo_at=photo_at(learner.group.public_id, learner.public_id),
        remove_at=lambda photo: url_for(
            "teach.remove_finding_photo",
            group_id=learner.group.public_id,
            person_id=learner.public_id,
            finding_id=finding.public_id,
            photo_id=photo,
        ),
    )
