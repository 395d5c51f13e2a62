"""What the job showed of the reader, by whom, and what each finding changed."""

from __future__ import annotations

from flask import render_template, url_for
from werkzeug.wrappers import Response

from trainer.groups.finding_photos import own_photo
from trainer.progress.field import findings_about
from trainer.web.content import library
from trainer.web.pages.learn.blueprint import blueprint
from trainer.web.sessions import actor
from trainer.web.transactions import reading
from trainer.web.visitors import Visitor, visitors

__all__ = ["finding_photo", "findings"]


@blueprint.get("/record/findings")
@visitors(Visitor.SIGNED_IN)
def findings() -> str:
    """All of them, the newest first, withdrawn ones too."""
    with reading() as session:
        found = findings_about(session, actor().person_id)
    titles = {skill.id: skill.title for skill in library().skills.values()}
    return render_template("learn/findings.html", findings=found, titles=titles, photo_at=_photo_at)


@blueprint.get("/record/findings/<photo_id>.jpg")
@visitors(Visitor.SIGNED_IN)
def finding_photo(photo_id: str) -> Response:
    """A photograph of one of them."""
    with reading() as session:
        image = own_photo(session, actor(), photo_id)
    return Response(image, mimetype="image/jpeg")


def _photo_at(photo_id: str) -> str:
    return url_for("learn.finding_photo", photo_id=photo_id)
