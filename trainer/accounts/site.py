"""The site itself: made once, with its administrator."""

from __future__ import annotations

from datetime import datetime

from msgspec import Struct
from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.accounts.passwords import one_time_password
from trainer.accounts.people import create_person
from trainer.records.locks import add_if_missing
from trainer.records.models import Site

__all__ = ["SiteLine", "make_site", "site_of"]


class SiteLine(Struct, frozen=True):
    """The site's own facts: edition of the rules for new problems, and whether all in it is invented."""

    edition: str
    is_demo: bool
    created_at: datetime


def site_of(session: Session) -> SiteLine | None:
    """The site's own facts; None before it is made."""
    row = session.scalar(select(Site))
    return None if row is None else SiteLine(row.edition, row.is_demo, row.created_at)


def make_site(
    session: Session, *, administrator: str, edition: str, now: datetime, is_demo: bool = False
) -> str | None:
    """
    Make the site and the person who looks after it.

    Args:
        session: A write session on an up-to-date database.
        administrator: Sign-in name, as typed.
        edition: Edition of the rules that new problems follow.
        now: This moment.
        is_demo: Whether all people in it will be invented.

    Returns:
        The administrator's one-time password; None when the site is there already, and nothing was changed.

    Raises:
        InputError: With `field` "sign_in_name", when the name cannot be used.
    """
    # Of two that make it at once the second waits for the first, and finds it made.
    if not add_if_missing(session, Site, id=1, edition=edition, is_demo=is_demo, created_at=now):
        return None
    password = one_time_password()
    create_person(
        session,
        sign_in_name=administrator,
        display_name="Site administrator",
        password=password,
        must_change_password=True,
        is_site_administrator=True,
        now=now,
    )
    return password
