"""
What a trip to another site needs on the way back: kept in the browser's signed cookie, for ten minutes, and good once.

The cookie is the browser's own: nobody else sees what is in it, and nobody can put something else into it.
"""

from __future__ import annotations

import hmac
from datetime import datetime, timedelta

import flask
from msgspec import Struct

from trainer.accounts.openid import Identity, Trip
from trainer.web.transactions import now

__all__ = ["BegunTrip", "Found", "forget_found", "found_by", "keep_found", "keep_trip", "take_trip"]

TRIP, FOUND = "outside_trip", "outside_found"
LASTS = timedelta(minutes=10)


class BegunTrip(Struct, frozen=True):
    """A trip that this browser has begun: what it is for, and where to go on to after it."""

    trip: Trip
    purpose: str
    wanted: str | None


def keep_trip(trip: Trip, purpose: str, wanted: str | None) -> None:
    """Keep a trip that begins; one that was begun before is no longer good."""
    told = {"state": trip.state, "nonce": trip.nonce, "verifier": trip.verifier}
    flask.session[TRIP] = told | {"for": purpose, "next": wanted, "at": now().isoformat()}


def take_trip(state: str) -> BegunTrip | None:
    """The trip that an answer belongs to, this once; None when none was begun in this browser, or too long ago."""
    held = flask.session.pop(TRIP, None)
    if held is None or not _is_fresh(held["at"]):
        return None
    if not hmac.compare_digest(state.encode("utf-8", "surrogatepass"), held["state"].encode()):
        return None
    return BegunTrip(Trip("", held["state"], held["nonce"], held["verifier"]), held["for"], held["next"])


class Found(Struct, frozen=True):
    """Who came back, and where to go on to."""

    identity: Identity
    wanted: str | None


def keep_found(identity: Identity, person: str, wanted: str | None = None) -> None:
    """
    Keep who came back, for the page that asks what to do with it.

    Args:
        identity: Who came back.
        person: Public id of the person who set out, and who alone may go on with it; "" for a newcomer.
        wanted: Where to go on to.
    """
    told = {"issuer": identity.issuer, "subject": identity.subject, "name": identity.name, "user": identity.user_name}
    flask.session[FOUND] = told | {"person": person, "next": wanted, "at": now().isoformat()}


def found_by(person: str) -> Found | None:
    """The account with which this person came back; None when none did, or too long ago."""
    held = flask.session.get(FOUND)
    if held is None or held["person"] != person or not _is_fresh(held["at"]):
        return None
    return Found(Identity(held["issuer"], held["subject"], held["name"], held["user"]), held["next"])


def forget_found() -> None:
    """It was decided what to do with who came back."""
    flask.session.pop(FOUND, None)


def _is_fresh(at: str) -> bool:
    return timedelta(0) <= now() - datetime.fromisoformat(at) < LASTS
