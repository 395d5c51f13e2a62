"""Who looked at whose record: noted once a day for each reader, learner and part, for the learner to see."""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime, timedelta

from sqlalchemy import insert, select
from sqlalchemy.orm import Session

from trainer.accounts.actor import Actor
from trainer.records.models import AuditLine

__all__ = ["note_looks"]

AGAIN_AFTER = timedelta(days=1)


def note_looks(
    session: Session,
    actor: Actor,
    group_id: int,
    people: Collection[int],
    *,
    what: str,
    now: datetime,
    again_after: timedelta = AGAIN_AFTER,
) -> None:
    """
    Note that someone looked, with two statements however many people there are.

    Args:
        session: A write session.
        actor: Who looked.
        group_id: As whose leader.
        people: At whom.
        what: At which part.
        now: This moment.
        again_after: How long one note stands for all.
    """
    query = select(AuditLine.subject_id).where(
        AuditLine.actor_id == actor.person_id,
        AuditLine.group_id == group_id,
        AuditLine.what == what,
        AuditLine.subject_id.in_(people),
        AuditLine.at > now - again_after,
    )
    noted = set(session.scalars(query))
    line = {"at": now, "actor_id": actor.person_id, "group_id": group_id, "what": what}
    if new := [line | {"subject_id": person} for person in people if person not in noted]:
        session.execute(insert(AuditLine), new)
