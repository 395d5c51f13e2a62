"""The blueprint that the pages of hours share, and how they send a file."""

from __future__ import annotations

from flask import Blueprint
from werkzeug.wrappers import Response

__all__ = ["blueprint", "csv_file"]

blueprint = Blueprint("hours", __name__)


def csv_file(text: str, name: str) -> Response:
    """A CSV file to keep, in UTF-8 with the mark by which spreadsheets know it."""
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    return Response("\ufeff" + text, mimetype="text/csv", headers=headers)
