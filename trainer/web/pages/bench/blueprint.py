"""What all pages of the bench share."""

from __future__ import annotations

from http import HTTPStatus

from flask import Blueprint, render_template

from trainer.groups.shoes import Bench, bench_of
from trainer.web.sessions import actor
from trainer.web.transactions import reading

__all__ = ["Answer", "blueprint", "closed_page", "here"]

Answer = str | tuple[str, int]

blueprint = Blueprint("bench", __name__, url_prefix="/bench")


def here() -> Bench:
    """What the reader finds at the bench."""
    with reading() as session:
        return bench_of(session, actor())


def closed_page() -> Answer:
    """Says that the bench gives no help while a question of a proof run is open."""
    return render_template("bench/closed.html"), HTTPStatus.CONFLICT
