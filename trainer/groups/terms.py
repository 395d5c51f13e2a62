"""A class or crew over the terms: its name, putting it away and opening it again, and its copy for the next term."""

from __future__ import annotations

from datetime import datetime

from msgspec import Struct
from sqlalchemy import select, update
from sqlalchemy.orm import Session

from trainer.accounts.access import GroupRef, NotAllowedError, group_led_by, organisation_of_staff
from trainer.accounts.actor import LEADING_ROLES, Actor
from trainer.accounts.audit import note
from trainer.calc.message import Message
from trainer.groups.membership import unused_code
from trainer.groups.names import unused_name
from trainer.groups.roster import put_in
from trainer.records.models import Group, Membership, Organisation, Person
from trainer.records.types import new_public_id

__all__ = ["AwayGroup", "copy_group", "next_term", "open_again", "put_away", "put_away_groups", "rename"]

TERMS = ("Spring", "Summer", "Fall")


class AwayGroup(Struct, frozen=True):
    """A class or crew that is put away."""

    group: str
    name: str
    organisation: str
    since: datetime
    time_zone: str


def rename(session: Session, actor: Actor, group_public_id: str, name: str, now: datetime) -> None:
    """
    Call a group something else.

    Raises:
        NotFoundError: When the group is not his to know of.
        NotAllowedError: When he does not lead it.
        InputError: With `field` "name", when it cannot be a name, or another group there is called so.
    """
    group = group_led_by(session, actor, group_public_id)
    called = unused_name(session, group.organisation.id, name, but=group.id)
    if called != group.name:
        session.execute(update(Group).where(Group.id == group.id).values(name=called))
        note(session, what="group.renamed", now=now, actor_id=actor.person_id, group_id=group.id)


def put_away(session: Session, actor: Actor, group_public_id: str, now: datetime) -> None:
    """
    Take a group off all lists and close its code; its record stays, and so does who belongs to it. Twice is once.

    Raises:
        NotFoundError: When the group is not his to know of.
        NotAllowedError: When he does not lead it, or it is a sample, which is removed instead.
    """
    group = group_led_by(session, actor, group_public_id)
    if group.is_sample:
        raise NotAllowedError(Message("groups.sample-stays"))
    if group.archived_at is None:
        session.execute(update(Group).where(Group.id == group.id).values(archived_at=now, join_code=None))
        note(session, what="group.put-away", now=now, actor_id=actor.person_id, group_id=group.id)


def open_again(session: Session, actor: Actor, group_public_id: str, now: datetime) -> None:
    """
    Bring a group back that was put away; joining stays closed until somebody opens it.

    Raises:
        NotFoundError: When the group is not his to know of.
        NotAllowedError: When he does not lead it.
        InputError: With `field` "name", when another group there is called so by now.
    """
    group = group_led_by(session, actor, group_public_id)
    if group.archived_at is not None:
        unused_name(session, group.organisation.id, group.name, but=group.id)
        session.execute(update(Group).where(Group.id == group.id).values(archived_at=None))
        note(session, what="group.opened-again", now=now, actor_id=actor.person_id, group_id=group.id)


def copy_group(
    session: Session, actor: Actor, group_public_id: str, *, name: str, with_people: bool, now: datetime
) -> str:
    """
    Make a group for the next term with the same leaders, and with the same people if so wished; never with results.

    Args:
        session: A write session.
        actor: Who leads the group, and may make one there.
        group_public_id: The group of this term.
        name: Of the new one, as typed.
        with_people: Whether its learners are put in; each is told what the new group sees.
        now: This moment.

    Returns:
        Public id of the new group.

    Raises:
        NotFoundError: When the group is not his to know of, or he may make none there.
        NotAllowedError: When he does not lead it, or it is a sample.
        InputError: With `field` "name", when it cannot be a name, or another group there is called so.
    """
    group = group_led_by(session, actor, group_public_id)
    organisation_of_staff(session, actor, group.organisation.public_id)
    if group.is_sample:
        raise NotAllowedError(Message("groups.sample-stays"))
    place = {"organisation_id": group.organisation.id, "kind": group.kind, "created_at": now}
    made = Group(
        public_id=new_public_id(),
        name=unused_name(session, group.organisation.id, name),
        join_code=unused_code(session),
        **place,
    )
    session.add(made)
    session.flush()
    new = GroupRef(made.id, made.public_id, made.name, made.kind, made.join_code, None, False, group.organisation)
    for person_id, role in _open_members(session, group.id, LEADING_ROLES):
        leading = {"person_id": person_id, "organisation_id": group.organisation.id, "group_id": made.id}
        session.add(Membership(**leading, role=role, started_at=now))
    note(session, what="group.copied", now=now, actor_id=actor.person_id, group_id=made.id)
    if with_people:
        put_in(session, actor, new, _learners(session, group.id), now)
    return made.public_id


def put_away_groups(session: Session, actor: Actor) -> list[AwayGroup]:
    """The groups that the one who asks leads and that are put away, the last one first."""
    own = [one.group_id for one in actor.leads]
    owned = [one.organisation_id for one in actor.owns]
    query = (
        select(Group, Organisation)
        .join(Organisation, Organisation.id == Group.organisation_id)
        .where(Group.archived_at.is_not(None), Group.id.in_(own) | Group.organisation_id.in_(owned))
        .order_by(Group.archived_at.desc(), Group.id)
    )
    return [
        AwayGroup(group.public_id, group.name, of.name, group.archived_at, of.time_zone)
        for group, of in session.execute(query)
        if group.archived_at is not None
    ]


def next_term(name: str, now: datetime) -> str:
    """
    What a class may be called in the term after this one.

    >>> from datetime import UTC
    >>> next_term("Tuesday evening, Fall 2026", datetime(2026, 11, 28, tzinfo=UTC))
    'Tuesday evening, Spring 2027'
    """
    stem, comma, last = name.rpartition(", ")
    if comma and last.partition(" ")[0] in TERMS:
        name = stem
    place = 0 if now.month < 5 else 1 if now.month < 7 else 2
    term = TERMS[(place + 1) % 3]
    return f"{name}, {term} {now.year + (place == 2)}"


def _open_members(session: Session, group_id: int, roles: tuple[str, ...]) -> list[tuple[int, str]]:
    query = select(Membership.person_id, Membership.role).where(
        Membership.group_id == group_id, Membership.role.in_(roles), Membership.ended_at.is_(None)
    )
    return [(person_id, role) for person_id, role in session.execute(query.order_by(Membership.id))]


def _learners(session: Session, group_id: int) -> list[tuple[int, str | None, str | None]]:
    """Who learns in a group, as its list calls them."""
    query = (
        select(Membership.person_id, Membership.roster_name, Membership.roster_number)
        .join(Person, Person.id == Membership.person_id)
        .where(Membership.group_id == group_id, Membership.role == "learner", Membership.ended_at.is_(None))
        .order_by(Membership.id)
    )
    return [(key, name, number) for key, name, number in session.execute(query)]
