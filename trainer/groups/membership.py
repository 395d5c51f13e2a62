"""Making a class or crew, leaving it, and what a member shows its leaders."""

from __future__ import annotations

from datetime import datetime

from msgspec import Struct
from sqlalchemy import select, update
from sqlalchemy.orm import Session

from trainer.accounts.access import NotAllowedError, group_led_by, group_of_member, organisation_of_staff
from trainer.accounts.actor import LEADING_ROLES, Actor
from trainer.accounts.audit import note
from trainer.accounts.sharing import CHOSEN_FREELY, Shared, end_sharing, set_shared, shared_with
from trainer.calc.message import InputError, Message
from trainer.groups.names import unused_name
from trainer.problems.codes import new_code
from trainer.records.locks import lock_person
from trainer.records.models import Group, Membership
from trainer.records.types import new_public_id

__all__ = [
    "KIND_OF",
    "SharingLine",
    "close_joining",
    "leading_role",
    "leave",
    "make_group",
    "open_joining",
    "set_sharing",
    "sharing_of",
    "unused_code",
]

KIND_OF = {"school": "class", "shop": "crew"}


class SharingLine(Struct, frozen=True):
    """One part of a member's record towards a group: whether it is open, and whether the member may change that."""

    what: Shared
    shared: bool
    may_change: bool
    words: Message


def make_group(session: Session, actor: Actor, organisation_public_id: str, *, name: str, now: datetime) -> str:
    """
    Make a class of a school or a crew of a shop, open to join by code; who makes it leads it.

    Args:
        session: A write session.
        actor: Owner, instructor or foreman of the organisation.
        organisation_public_id: The organisation.
        name: As typed.
        now: This moment.

    Returns:
        Public id of the group.

    Raises:
        NotFoundError: When the one who asks has no such role in such an organisation.
        InputError: With `field` "name", when it cannot be one, or another group there is called so.
    """
    organisation = organisation_of_staff(session, actor, organisation_public_id)
    group = Group(
        public_id=new_public_id(),
        organisation_id=organisation.id,
        kind=KIND_OF[organisation.kind],
        name=unused_name(session, organisation.id, name),
        join_code=unused_code(session),
        created_at=now,
    )
    session.add(group)
    session.flush()
    if (role := leading_role(actor, organisation.id)) is not None:
        leading = {"person_id": actor.person_id, "organisation_id": organisation.id, "group_id": group.id}
        session.add(Membership(**leading, role=role, started_at=now))
    note(session, what="group.made", now=now, actor_id=actor.person_id, group_id=group.id)
    return group.public_id


def open_joining(session: Session, actor: Actor, group_public_id: str, now: datetime) -> str:
    """
    Let people join a group by a new code; the old one, if there was one, is of no use any more.

    Raises:
        NotFoundError: When the group is not his to know of.
        NotAllowedError: When he does not lead it, or it is put away or a sample.
    """
    code = unused_code(session)
    _set_code(session, actor, group_public_id, code, now)
    return code


def close_joining(session: Session, actor: Actor, group_public_id: str, now: datetime) -> None:
    """Let nobody join a group any more; errors as `open_joining`."""
    _set_code(session, actor, group_public_id, None, now)


def leave(session: Session, actor: Actor, group_public_id: str, now: datetime) -> None:
    """
    Leave a group. What was assigned under it stays its record; all else of the own record closes to it.

    Raises:
        NotFoundError: When the one who asks is no member of such a group.
    """
    group = group_of_member(session, actor, group_public_id)
    lock_person(session, actor.person_id)
    mine = (
        update(Membership)
        .where(Membership.person_id == actor.person_id, Membership.group_id == group.id)
        .where(Membership.role == "learner", Membership.ended_at.is_(None))
    )
    session.execute(mine.values(ended_at=now))
    end_sharing(session, actor.person_id, group.id, now)
    me = actor.person_id
    note(session, what="group.left", now=now, actor_id=me, subject_id=me, group_id=group.id)


def sharing_of(session: Session, actor: Actor, group_public_id: str) -> list[SharingLine]:
    """
    What the one who asks shows the leaders of a group.

    Raises:
        NotFoundError: When the one who asks is no member of such a group.
    """
    group = group_of_member(session, actor, group_public_id)
    shared = shared_with(session, actor.person_id, group.id)
    return [SharingLine(what, what in shared, what in CHOSEN_FREELY, share_words(what)) for what in Shared]


def set_sharing(
    session: Session, actor: Actor, group_public_id: str, what: str, now: datetime, *, shared: bool
) -> None:
    """
    Open or close one part of the own record towards a group.

    Raises:
        NotFoundError: When the one who asks is no member of such a group.
        InputError: With `field` "what", when it is no part that a member may open and close.
    """
    group = group_of_member(session, actor, group_public_id)
    if what not in CHOSEN_FREELY:
        accepted = Message("groups.what-accepted")
        raise InputError(Message("groups.what"), given=what[:40], accepted=accepted, example="readiness", field="what")
    set_shared(session, actor.person_id, group.id, Shared(what), now, shared=shared)


def share_words(what: Shared) -> Message:
    """What the leaders of a group see of a part of the record, in a sentence."""
    return Message(f"groups.share.{what.value}")


def unused_code(session: Session) -> str:
    """A join code that no group has."""
    while session.scalar(select(Group.id).where(Group.join_code == (code := new_code()))) is not None:
        continue
    return code


def _set_code(session: Session, actor: Actor, group_public_id: str, code: str | None, now: datetime) -> None:
    group = group_led_by(session, actor, group_public_id)
    if code is not None and group.archived_at is not None:
        raise NotAllowedError(Message("groups.put-away", {"group": group.name}))
    if code is not None and group.is_sample:
        raise NotAllowedError(Message("groups.sample-stays"))
    session.execute(update(Group).where(Group.id == group.id).values(join_code=code))
    did = "group.closed" if code is None else "group.opened"
    note(session, what=did, now=now, actor_id=actor.person_id, group_id=group.id)


def leading_role(actor: Actor, organisation_id: int) -> str | None:
    """The role in which someone leads a group that he makes; None for an owner, who leads all of them."""
    roles = (one.role for one in actor.may_make_groups_in if one.organisation_id == organisation_id)
    return next((role for role in roles if role in LEADING_ROLES), None)
