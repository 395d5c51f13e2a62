"""Whether the site is up, for whoever watches it: `/healthz`."""

from __future__ import annotations

import logging

from flask import Blueprint, jsonify
from sqlalchemy import text
from sqlalchemy.exc import SQLAlchemyError
from werkzeug.wrappers import Response

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
    except SQLAlchemyError:
        log.exception("records cannot be read")
        return jsonify(status="records cannot be read"), 503
    return jsonify(status="ok"), 200
