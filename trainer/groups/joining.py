"""
Joining a group by its code: first the page that says what will be shown to whom, then the step itself.

A refusal is a value, not an exception: an exception would roll back the count of wrong codes.
"""

from __future__ import annotations

from datetime import datetime

from msgspec import Struct
from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from trainer.accounts import throttle
from trainer.accounts.actor import LEADING_ROLES, Actor
from trainer.accounts.audit import note
from trainer.accounts.refs import GroupRef, find_group
from trainer.accounts.refused import Refused, too_often
from trainer.accounts.sharing import STARTS_WITH, Shared, start_sharing
from trainer.calc.message import InputError, Message
from trainer.groups.membership import share_words
from trainer.problems.codes import read_code
from trainer.records.locks import add_if_missing, lock_person
from trainer.records.models import Group, Membership, Person

__all__ = ["JoinPreview", "Joined", "join", "join_preview", "leaders_of"]


class JoinPreview(Struct, frozen=True):
    """
    What joining a group means.

    Args:
        code: Its code, in the one spelling.
        group: Public id of the group.
        name: Its name.
        kind: "class" or "crew".
        organisation: Name of the school or shop.
        leaders: Names of those who will see what is shared: its leaders, and the owners of the organisation.
        shared: What they will see from the start.
        kept: What they will not see unless the member opens it.
        is_member: Whether the one who asks is a member already.
    """

    code: str
    group: str
    name: str
    kind: str
    organisation: str
    leaders: tuple[Message, ...]
    shared: tuple[Message, ...]
    kept: tuple[Message, ...]
    is_member: bool


class Joined(Struct, frozen=True):
    """The one who asked is a member now: public id and name of the group."""

    group: str
    name: str


def join_preview(
    session: Session, actor: Actor | None, code: str, now: datetime, *, address: str = ""
) -> JoinPreview | Refused:
    """
    What will be shared with whom when one joins by this code.

    Args:
        session: A write session: wrong codes are counted.
        actor: Who asks; None for someone who has no sign-in yet.
        code: As typed; small letters, spaces and dashes are fine.
        now: This moment.
        address: Where the request comes from; counts for someone without a sign-in.
    """
    group = _group_for(session, _subject(actor, address), code, now)
    if isinstance(group, Refused):
        return group
    starts = STARTS_WITH[group.kind]
    return JoinPreview(
        code=group.join_code or "",
        group=group.public_id,
        name=group.name,
        kind=group.kind,
        organisation=group.organisation.name,
        leaders=leaders_of(session, group),
        shared=tuple(share_words(what) for what in starts),
        kept=tuple(share_words(what) for what in Shared if what not in starts),
        is_member=actor is not None and any(one.group_id == group.id for one in actor.learns_in),
    )


def join(session: Session, actor: Actor, code: str, now: datetime) -> Joined | Refused:
    """
    Become a learner in the group with this code, and share what its kind starts with. Twice is once.

    Args:
        session: A write session.
        actor: Who joins.
        code: As typed; small letters, spaces and dashes are fine.
        now: This moment.
    """
    group = _group_for(session, _subject(actor, ""), code, now)
    if isinstance(group, Refused):
        return group
    me = actor.person_id
    lock_person(session, me)
    if not _is_learner(session, me, group.id):
        learner = {"person_id": me, "organisation_id": group.organisation.id, "group_id": group.id, "role": "learner"}
        add_if_missing(session, Membership, **learner, started_at=now)
        start_sharing(session, me, group.id, group.kind, now)
        note(session, what="group.joined", now=now, actor_id=me, subject_id=me, group_id=group.id)
    return Joined(group.public_id, group.name)


def _subject(actor: Actor | None, address: str) -> str:
    """Against whom a wrong code counts."""
    return f"address:{throttle.network(address)}" if actor is None else f"person:{actor.person_id}"


def _group_for(session: Session, subject: str, code: str, now: datetime) -> GroupRef | Refused:
    """The group that a code opens. A slip of the pen is not counted; a well-formed code that opens nothing is."""
    if pause := throttle.wait(session, throttle.JOIN, subject, now):
        return too_often(pause)
    try:
        read = read_code(code)
    except InputError:
        return Refused(Message("groups.code-slip"))
    group = find_group(session, Group.join_code == read, Group.archived_at.is_(None))
    if group is None:
        throttle.failed(session, throttle.JOIN, subject, now)
        return Refused(Message("groups.code-unknown"))
    return group


def _is_learner(session: Session, person_id: int, group_id: int) -> bool:
    query = select(Membership.id).where(
        Membership.person_id == person_id,
        Membership.group_id == group_id,
        Membership.role == "learner",
        Membership.ended_at.is_(None),
    )
    return session.scalar(query) is not None


def leaders_of(session: Session, group: GroupRef) -> tuple[Message, ...]:
    """All who lead a group, each once; who is among them for owning the school or shop, with these words."""
    leads = (Membership.group_id == group.id) & Membership.role.in_(LEADING_ROLES)
    owns = (Membership.organisation_id == group.organisation.id) & (Membership.role == "owner")
    query = (
        select(Person.display_name, Membership.role)
        .join(Membership, Membership.person_id == Person.id)
        .where(Membership.ended_at.is_(None), or_(leads, owns))
        .order_by(Membership.started_at, Membership.id)
    )
    roles: dict[str, set[str]] = {}
    for name, role in session.execute(query):
        roles.setdefault(name, set()).add(role)
    runs = "groups.runs-school" if group.kind == "class" else "groups.runs-shop"
    return tuple(Message(runs if held == {"owner"} else "groups.leads", {"name": name}) for name, held in roles.items())
