"""A note of who did what to whom. Lines are only added, and the person they are about may read them."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from datetime import datetime

from msgspec import Struct
from sqlalchemy import ColumnElement, insert, or_, select
from sqlalchemy.orm import Session, aliased

from trainer.records.models import AuditLine, Group, Person

__all__ = ["LOOKED_KINDS", "RECORD_KINDS", "NotedLine", "begins_with", "lines_about", "note", "note_each"]

LOOKED_KINDS = ("looked", "exported")
"""How the notes begin that tell who looked at a record, or took it along."""

RECORD_KINDS = (
    "attendance",
    "check",
    "finding",
    "hours",
    "key",
    "processes",
    "proof",
    "registration",
    "result",
    "signer",
)
"""How the notes begin that belong to a record: without them nobody could say any more on what it rests."""


class NotedLine(Struct, frozen=True):
    """
    One line as its subject reads it.

    Args:
        at: When, in UTC.
        what: What was done, such as "password.reset"; `trainer.text` has a sentence for each.
        actor: Display name of who did it; None when the program itself did.
        by_subject: Whether the person did it alone.
        group: Name of the group that it concerns.
        detail: More about it; never a secret, and no name of another person.
    """

    at: datetime
    what: str
    actor: str | None
    by_subject: bool
    group: str | None
    detail: Mapping[str, object]


def note(
    session: Session,
    *,
    what: str,
    now: datetime,
    actor_id: int | None = None,
    subject_id: int | None = None,
    group_id: int | None = None,
    detail: Mapping[str, object] | None = None,
) -> None:
    """
    Add a line, in the transaction of what it tells about.

    Args:
        session: A write session.
        what: What was done, such as "password.reset".
        now: When.
        actor_id: Who did it; None for the program itself.
        subject_id: Whom it concerns.
        group_id: The group that it concerns.
        detail: More about it. It outlives the people in it: put no name, address or secret here.
    """
    line = AuditLine(at=now, actor_id=actor_id, subject_id=subject_id, group_id=group_id, what=what)
    line.detail = dict(detail) if detail else None
    session.add(line)
    session.flush()


def note_each(session: Session, people: Collection[int], *, what: str, now: datetime, actor_id: int) -> None:
    """Add a line for each of several people, with one statement."""
    lines = [{"at": now, "actor_id": actor_id, "subject_id": person_id, "what": what} for person_id in people]
    if lines:
        session.execute(insert(AuditLine), lines)


def lines_about(session: Session, person_id: int, *, limit: int = 100, kinds: tuple[str, ...] = ()) -> list[NotedLine]:
    """What was noted about a person, the newest first; with `kinds` only what begins with one of them, as in "looked.practice"."""
    actor = aliased(Person)
    query = (
        select(AuditLine, actor.display_name, Group.name)
        .outerjoin(actor, actor.id == AuditLine.actor_id)
        .outerjoin(Group, Group.id == AuditLine.group_id)
        .where(AuditLine.subject_id == person_id)
        .order_by(AuditLine.at.desc(), AuditLine.id.desc())
        .limit(limit)
    )
    if kinds:
        query = query.where(begins_with(kinds))
    return [
        NotedLine(line.at, line.what, name, line.actor_id == person_id, group, line.detail or {})
        for line, name, group in session.execute(query)
    ]


def begins_with(kinds: Collection[str]) -> ColumnElement[bool]:
    """The condition that a line is of one of these kinds, as "looked" is of "looked.practice"."""
    return or_(*(AuditLine.what.startswith(f"{kind}.") for kind in kinds))
