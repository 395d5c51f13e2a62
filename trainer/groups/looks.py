"""Who looked at whose record: noted once a day for each reader, learner and part, for the learner to see."""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime, timedelta

from sqlalchemy import insert, select
from sqlalchemy.orm import Session

from trainer.accounts.actor import Actor
from trainer.records.models import AuditLine

__all__ = ["looks_due", "note_looks", "note_looks_in_groups"]

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
    looked_at = [(group_id, person) for person in people]
    note_looks_in_groups(session, actor, looked_at, what=what, now=now, again_after=again_after)


def note_looks_in_groups(
    session: Session,
    actor: Actor,
    looked_at: Collection[tuple[int, int]],
    *,
    what: str,
    now: datetime,
    again_after: timedelta = AGAIN_AFTER,
) -> datetime | None:
    """
    The same over several groups at once.

    Args:
        session: A write session.
        actor: Who looked.
        looked_at: As leader of which group, and at whom.
        what: At which part.
        now: This moment.
        again_after: How long one note stands for all.

    Returns:
        Until when it is on record for all of them; None where some of it was written only now.
    """
    query = select(AuditLine.group_id, AuditLine.subject_id, AuditLine.at).where(
        AuditLine.actor_id == actor.person_id,
        AuditLine.group_id.in_({group for group, _ in looked_at}),
        AuditLine.what == what,
        AuditLine.at > now - again_after,
    )
    noted = {(group, person): at for group, person, at in session.execute(query.order_by(AuditLine.at))}
    line = {"at": now, "actor_id": actor.person_id, "what": what}
    if new := [
        line | {"group_id": group, "subject_id": person} for group, person in looked_at if (group, person) not in noted
    ]:
        session.execute(insert(AuditLine), new)
        return None
    return min((noted[pair] for pair in looked_at), default=now) + again_after


def looks_due(
    session: Session, actor: Actor, group_id: int, people: Collection[int], *, what: str, now: datetime
) -> bool:
    """Whether a look is to be noted for any of them: a page that is read every few seconds writes only then."""
    query = select(AuditLine.subject_id).where(
        AuditLine.actor_id == actor.person_id,
        AuditLine.group_id == group_id,
        AuditLine.what == what,
        AuditLine.at > now - AGAIN_AFTER,
    )
    return not set(people) <= set(session.scalars(query))
