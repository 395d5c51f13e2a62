"""
What a person lets the leaders of a group see.

A class starts with assigned work; a crew with assigned work and readiness, with the evidence behind it. Practice is
shown only to whom the person shows it. Assigned work is the group's own record: it is shown as long as one belongs to
the group, and what was made under the group stays with it afterwards. All else closes on leaving.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from enum import StrEnum
from types import MappingProxyType

from sqlalchemy import select, update
from sqlalchemy.orm import Session

from trainer.accounts.audit import note
from trainer.records.locks import add_if_missing
from trainer.records.models import Share

__all__ = ["CHOSEN_FREELY", "STARTS_WITH", "Shared", "end_sharing", "set_shared", "shared_with", "start_sharing"]


class Shared(StrEnum):
    """A part of a person's record."""

    ASSIGNED = "assigned"
    READINESS = "readiness"
    PRACTICE = "practice"


STARTS_WITH: Mapping[str, tuple[Shared, ...]] = MappingProxyType(
    {"class": (Shared.ASSIGNED,), "crew": (Shared.ASSIGNED, Shared.READINESS)}
)
"""What a new member of each kind of group shares; the page on which one joins says so."""

CHOSEN_FREELY = (Shared.READINESS, Shared.PRACTICE)
"""What a member may open and close at any time."""


def shared_with(session: Session, person_id: int, group_id: int) -> frozenset[Shared]:
    """What a person shares with a group at this moment."""
    query = select(Share.what).where(Share.person_id == person_id, Share.group_id == group_id, Share.ended_at.is_(None))
    return frozenset(map(Shared, session.scalars(query)))


def start_sharing(session: Session, person_id: int, group_id: int, group_kind: str, now: datetime) -> None:
    """Share what a new member of such a group shares. The caller makes the membership in the same transaction."""
    for what in STARTS_WITH[group_kind]:
        add_if_missing(session, Share, person_id=person_id, group_id=group_id, what=what.value, started_at=now)


def end_sharing(session: Session, person_id: int, group_id: int, now: datetime) -> None:
    """Close everything towards a group. The caller ends the membership in the same transaction."""
    _end(session, person_id, group_id, tuple(Shared), now)


def set_shared(session: Session, person_id: int, group_id: int, what: Shared, now: datetime, *, shared: bool) -> None:
    """
    Open or close one part of the own record towards a group; noted for the person to see where that changes anything.

    The caller has fetched the group by `access.group_of_member`.

    Raises:
        ValueError: For assigned work, which is shared as long as one belongs to the group.
    """
    if what not in CHOSEN_FREELY:
        raise ValueError(f"{what.value} is shared for as long as one belongs to the group; leaving the group ends it")
    if shared == (what in shared_with(session, person_id, group_id)):
        return
    if shared:
        add_if_missing(session, Share, person_id=person_id, group_id=group_id, what=what.value, started_at=now)
    else:
        _end(session, person_id, group_id, (what,), now)
    did = "share.opened" if shared else "share.closed"
    detail = {"what": what.value}
    note(session, what=did, now=now, actor_id=person_id, subject_id=person_id, group_id=group_id, detail=detail)


def _end(session: Session, person_id: int, group_id: int, parts: tuple[Shared, ...], now: datetime) -> None:
    open_ones = (
        update(Share)
        .where(Share.person_id == person_id, Share.group_id == group_id, Share.ended_at.is_(None))
        .where(Share.what.in_([part.value for part in parts]))
    )
    session.execute(open_ones.values(ended_at=now))
