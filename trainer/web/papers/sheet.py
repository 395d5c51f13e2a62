"""What all papers of the site share: their head and foot, drawings in print styles, and the file that is sent."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

from flask import Response, current_app

from trainer.accounts.actor import Actor
from trainer.accounts.site import site_of
from trainer.config import Settings
from trainer.paper import Block, Document, Figure, for_print, typeset
from trainer.paper.drawings import told_by
from trainer.web.downloads import attached, file_name
from trainer.web.language import gettext, language
from trainer.web.moments import moment, zone_of
from trainer.web.papers.turns import turn
from trainer.web.sessions import actor
from trainer.web.statics import FOLDER
from trainer.web.transactions import now, reading

__all__ = ["document", "figure", "pdf_file"]

#: Style sheets of drawings, and the tokens that hold on paper.
STYLES = ("css/figures.css", "css/print.css")


def document(title: str, below: str, blocks: Iterable[Block], reader: Actor) -> Document:
    """
    A paper of the site. On every page of a demo it says that all in it is invented.

    Args:
        title: What it is.
        below: A line below the title.
        blocks: What it holds.
        reader: Who takes it; the time of printing is written by that person's clock.
    """
    printed = gettext("%(site)s, printed %(moment)s") % {
        "site": gettext("Tubing Trainer"),
        "moment": moment(now(), zone_of(reader)),
    }
    return Document(
        title=title,
        below=below,
        mark=gettext("Invented people and numbers: this is a demonstration, and proves nothing") if _is_demo() else "",
        foot=printed,
        page_words=gettext("Page {page} of {pages}"),
        blocks=tuple(blocks),
        language=language(),
    )


def figure(svg: str, *, share: float = 0.8) -> Figure:
    """A drawing as it goes on paper."""
    return Figure(for_print(svg, *_styles()), told_by(svg), share)


def pdf_file(paper: Document, name: str) -> Response:
    """
    The paper as a file to keep.

    Raises:
        TypesettingError: When it cannot be set; a page of errors says so.
        PaperUnderWayError: When one is being made for the same person; a page says so, too.
    """
    site: Settings = current_app.extensions["trainer.settings"]
    with turn(site.instance, actor().person_id):
        made = typeset(paper, moment=now())
    return attached(made, "application/pdf", f"{file_name(name)}.pdf")


def _is_demo() -> bool:
    with reading() as session:
        site = site_of(session)
    return site is not None and site.is_demo


@cache
def _styles() -> tuple[str, ...]:
    return tuple((FOLDER / name).read_text(encoding="utf-8") for name in STYLES)
