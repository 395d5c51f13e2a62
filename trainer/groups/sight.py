"""Who sees what of a person's record, group by group, for that person to read and change."""

from __future__ import annotations

from msgspec import Struct
from sqlalchemy.orm import Session

from trainer.accounts.access import group_of_member
from trainer.accounts.actor import Actor
from trainer.calc.message import Message
from trainer.groups.joining import leaders_of
from trainer.groups.membership import SharingLine, sharing_of

__all__ = ["GroupSight", "who_sees"]


class GroupSight(Struct, frozen=True):
    """
    A class or crew that a person learns in.

    Args:
        public_id: The group in addresses.
        name: Its name.
        kind: "class" or "crew".
        organisation: Name of its school or shop.
        leaders: Names of those who see what is shared.
        lines: Each part of the record, whether it is shared, and whether that can be changed.
    """

    public_id: str
    name: str
    kind: str
    organisation: str
    leaders: tuple[Message, ...]
    lines: tuple[SharingLine, ...]


def who_sees(session: Session, actor: Actor) -> list[GroupSight]:
    """The groups that the one who asks learns in, in the order in which they were joined."""
    return [_sight(session, actor, one.group_public_id) for one in actor.learns_in if one.group_public_id]


def _sight(session: Session, actor: Actor, public_id: str) -> GroupSight:
    group = group_of_member(session, actor, public_id)
    return GroupSight(
        public_id=group.public_id,
        name=group.name,
        kind=group.kind,
        organisation=group.organisation.name,
        leaders=leaders_of(session, group),
        lines=tuple(sharing_of(session, actor, public_id)),
    )
