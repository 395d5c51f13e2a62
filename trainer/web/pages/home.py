"""The first page: for a stranger what this is, for anyone else the first of the own main pages."""

from __future__ import annotations

from functools import cache

from flask import Blueprint, redirect, render_template, url_for
from werkzeug.wrappers import Response

from trainer.calc.catalogue import CATALOGUE
from trainer.figures.catalogue import draw_figure
from trainer.text.words import say
from trainer.web.language import language
from trainer.web.navigation import places_of_reader
from trainer.web.sessions import reader
from trainer.web.visitors import Visitor, visitors

__all__ = ["blueprint"]

blueprint = Blueprint("home", __name__)


@blueprint.get("/")
@visitors(Visitor.ANYONE)
def first() -> str | Response:
    """What this is, and the two ways in; for someone who is signed in, where the work is."""
    actor = reader()
    if actor is None:
        return render_template("home/first.html", drawing_of_offset=_drawing(language()))
    if actor.is_untold:
        # From there on to where the work is, not to where one ends up without main pages.
        return redirect(url_for("sharing.told"), 303)
    places = places_of_reader()
    return redirect(places[0].href if places else url_for("account.overview"), 303)


@cache
def _drawing(spoken: str) -> str:
    """An offset, so that a stranger sees what it is about."""
    example = CATALOGUE["offset"].example_inputs
    return draw_figure("offset", example, say=lambda message: say(message, spoken))
