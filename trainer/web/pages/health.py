"""
Whether the site is up, for whoever watches it: `/healthz` and `/readyz`.

The first says that this process answers and reads the records; whoever restarts processes asks it. The second says that
all is there that its work needs; whoever sends requests asks it, and sends none while it says no.
"""

from __future__ import annotations

import logging

from flask import Blueprint, jsonify
from sqlalchemy import text
from sqlalchemy.exc import SQLAlchemyError
from werkzeug.wrappers import Response

from trainer.records.revision import DatabaseVersionError
from trainer.web.readiness import missing
from trainer.web.transactions import reading
from trainer.web.visitors import Visitor, visitors

__all__ = ["blueprint"]

blueprint = Blueprint("health", __name__)
log = logging.getLogger("trainer.web")


@blueprint.get("/healthz")
@visitors(Visitor.ANYONE)
def healthz() -> tuple[Response, int]:
    """200 while pages can be served from the records, else 503. Tells nothing about the site or its people."""
    try:
        with reading() as session:
            session.execute(text("SELECT 1 FROM site"))
    except (SQLAlchemyError, DatabaseVersionError):
        log.exception("records cannot be read")
        return jsonify(status="records cannot be read"), 503
    return jsonify(status="ok"), 200


@blueprint.get("/readyz")
@visitors(Visitor.ANYONE)
def readyz() -> tuple[Response, int]:
    """200 when all is there, else 503 with what is missing, in plain words."""
    found = missing()
    answer = jsonify(status="not ready", missing=found) if found else jsonify(status="ready")
    answer.headers["Cache-Control"] = "no-store"
    return answer, 503 if found else 200
