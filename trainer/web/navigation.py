"""The few main pages that a reader gets to with one tap: along the lower edge of a phone, in the top bar at a desk."""

from __future__ import annotations

from flask import current_app, request, url_for
from msgspec import Struct

from trainer.web.language import Later
from trainer.web.sessions import reader
from trainer.web.visitors import Visitor, kinds_of

__all__ = ["PLACES", "Place", "ShownPlace", "places_of_reader"]


class Place(Struct, frozen=True):
    """
    A main page.

    Args:
        endpoint: The view that it leads to; the pages of the same blueprint count as being there when `sections` say so.
        words: What it is called.
        icon: Its drawing in components/icons.html.
        sections: Starts of the endpoints that belong to it, for the mark of where one is.
        kinds: Whom it is shown to.
    """

    endpoint: str
    words: Later
    icon: str
    sections: tuple[str, ...]
    kinds: frozenset[Visitor]


class ShownPlace(Struct, frozen=True):
    """A main page as one page shows it."""

    href: str
    words: str
    icon: str
    here: bool


EVERYBODY = frozenset({Visitor.SIGNED_IN})
LEADERS = frozenset({Visitor.INSTRUCTOR, Visitor.FOREMAN, Visitor.OWNER})
KEEPERS = frozenset({Visitor.ADMINISTRATOR})

PLACES = (
    Place("learn.today", Later("Today"), "today", ("learn.today", "learn.work"), EVERYBODY),
    Place("learn.lessons", Later("Learn"), "learn", ("learn.lesson",), EVERYBODY),
    Place("learn.practice", Later("Practice"), "practice", ("learn.practice",), EVERYBODY),
    Place("bench.list_bends", Later("Bench"), "bench", ("bench.",), EVERYBODY),
    Place("learn.record", Later("Record"), "record", ("learn.record", "learn.jobs", "hands_on.own"), EVERYBODY),
    Place(
        "teach.groups",
        Later("Groups"),
        "group",
        ("teach.", "crew.", "jobs.", "hands_on.night", "hands_on.to_sign", "hands_on.cards"),
        LEADERS,
    ),
    Place("site.overview", Later("Site"), "site", ("site.",), KEEPERS),
)


def places_of_reader() -> list[ShownPlace]:
    """The main pages of the person who is signed in; none before what is due first is done."""
    actor = reader()
    if actor is None or actor.must_change_password or actor.is_untold or actor.owes_second_factor:
        return []
    kinds = kinds_of(actor)
    places = [place for place in PLACES if place.kinds & kinds and place.endpoint in current_app.view_functions]
    if not actor.learns_in:
        # Who leads or looks after the site, and learns nowhere, begins the day with that.
        places.sort(key=lambda place: place.kinds is EVERYBODY)
    return [_shown(place) for place in places]


def _shown(place: Place) -> ShownPlace:
    here = (request.endpoint or "").startswith(place.sections)
    return ShownPlace(url_for(place.endpoint), str(place.words), place.icon, here)
