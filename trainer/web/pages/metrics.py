"""Figures for Prometheus: `/metrics`, for who shows the site's token."""

from __future__ import annotations

import hmac

from flask import Blueprint, Response, abort, current_app, request

from trainer.config import Settings
from trainer.web import metrics as kept
from trainer.web.visitors import Visitor, visitors

__all__ = ["blueprint"]

blueprint = Blueprint("metrics", __name__)
FORMAT = "text/plain; version=0.0.4; charset=utf-8"


@blueprint.get("/metrics")
@visitors(Visitor.ANYONE)
def shown() -> Response:
    """The figures of all workers of this server. Without the token there is no such page."""
    settings: Settings = current_app.extensions["trainer.settings"]
    found = kept.metrics()
    given = request.authorization
    token = given.token if given is not None and given.type == "bearer" else None
    if found is None or settings.metrics_token is None or not _same(token, settings.metrics_token):
        abort(404)
    response = Response(found.text(), content_type=FORMAT)
    response.headers["Cache-Control"] = "no-store"
    return response


def _same(given: str | None, wanted: str) -> bool:
    return hmac.compare_digest((given or "").encode(errors="replace"), wanted.encode())
