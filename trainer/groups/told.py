"""Telling people what a class sees that somebody else put them into, before anything else is shown to them."""

from __future__ import annotations

from datetime import datetime

from msgspec import Struct
from sqlalchemy import ColumnElement, select, update
from sqlalchemy.orm import Session

from trainer.accounts.actor import Actor
from trainer.accounts.audit import note
from trainer.accounts.refs import find_group
from trainer.accounts.sharing import STARTS_WITH, Shared
from trainer.calc.message import Message
from trainer.groups.joining import leaders_of
from trainer.groups.membership import share_words
from trainer.records.models import Group, Membership, Person

__all__ = ["UntoldGroup", "note_told", "untold_groups"]


class UntoldGroup(Struct, frozen=True):
    """A group that somebody was put into: who did it, who leads it, what they see from the start and what not."""

    group: str
    name: str
    kind: str
    organisation: str
    put_in_by: str
    leaders: tuple[Message, ...]
    shared: tuple[Message, ...]
    kept: tuple[Message, ...]


def untold_groups(session: Session, actor: Actor) -> list[UntoldGroup]:
    """The groups that the one who asks was put into and has not read about."""
    query = (
        select(Membership.group_id, Person.display_name)
        .join(Person, Person.id == Membership.added_by_id)
        .where(*_untold(actor))
        .order_by(Membership.id)
    )
    return [_group(session, group_id, by) for group_id, by in session.execute(query) if group_id is not None]


def note_told(session: Session, actor: Actor, now: datetime) -> None:
    """Note that the one who asks has read it. Twice is once."""
    groups = session.scalars(select(Membership.group_id).where(*_untold(actor))).all()
    session.execute(update(Membership).where(*_untold(actor)).values(told_at=now))
    me = actor.person_id
    for group_id in groups:
        note(session, what="group.told", now=now, actor_id=me, subject_id=me, group_id=group_id)


def _untold(actor: Actor) -> tuple[ColumnElement[bool], ...]:
    return (
        Membership.person_id == actor.person_id,
        Membership.ended_at.is_(None),
        Membership.added_by_id.is_not(None),
        Membership.told_at.is_(None),
    )


def _group(session: Session, group_id: int, by: str) -> UntoldGroup:
    found = find_group(session, Group.id == group_id)
    if found is None:
        raise LookupError(f"there is no group {group_id} of a membership")
    starts = STARTS_WITH[found.kind]
    return UntoldGroup(
        group=found.public_id,
        name=found.name,
        kind=found.kind,
        organisation=found.organisation.name,
        put_in_by=by,
        leaders=leaders_of(session, found),
        shared=tuple(share_words(what) for what in starts),
        kept=tuple(share_words(what) for what in Shared if what not in starts),
    )
