"""Schools and shops, and who has a role in the whole of one."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import available_timezones

from msgspec import Struct
from sqlalchemy import select, update
from sqlalchemy.orm import Session

from trainer.accounts.access import NotAllowedError, NotFoundError, organisation_owned_by
from trainer.accounts.actor import Actor
from trainer.accounts.audit import note
from trainer.accounts.people import PersonLine, person_named
from trainer.accounts.refs import OrganisationRef, find_organisation
from trainer.calc.message import InputError, Message
from trainer.groups.names import read_name
from trainer.records.locks import add_if_missing, lock_person
from trainer.records.models import Membership, Organisation, Person, Signer
from trainer.records.types import is_public_id, new_public_id

__all__ = [
    "KINDS",
    "ROLES_OF_KIND",
    "STAFF_ROLES",
    "StaffLine",
    "appoint",
    "dismiss",
    "make_organisation",
    "staff_of",
    "whom_to_appoint",
]

KINDS = ("school", "shop")
ROLES_OF_KIND = {"school": ("instructor", "owner"), "shop": ("foreman", "owner")}
"""Roles that make sense in each kind, in the order in which pages name them."""

STAFF_ROLES = ("owner", "instructor", "foreman")


class StaffLine(Struct, frozen=True):
    """Someone with a role in a whole organisation."""

    person: str
    display_name: str
    role: str
    since: datetime


def make_organisation(session: Session, actor: Actor, *, name: str, kind: str, time_zone: str, now: datetime) -> str:
    """
    Make a school or a shop; the site administrator does that, and appoints its owner.

    Args:
        session: A write session.
        actor: Who asks.
        name: As typed.
        kind: "school" or "shop".
        time_zone: IANA name, "America/Chicago": due dates and days are counted there.
        now: This moment.

    Returns:
        Its public id.

    Raises:
        NotAllowedError: When the one who asks does not look after the site.
        InputError: With `field` "name", "kind" or "time_zone", when it cannot be used.
    """
    if not actor.is_site_administrator:
        raise NotAllowedError(Message("groups.administrator-only"))
    if kind not in KINDS:
        raise _refused("groups.kind", kind, "groups.kind-accepted", "school", "kind")
    if time_zone not in available_timezones():
        raise _refused("groups.time-zone", time_zone, "groups.time-zone-accepted", "America/Chicago", "time_zone")
    organisation = Organisation(
        public_id=new_public_id(),
        name=read_name(name, field="name", example="Riverside evening school"),
        kind=kind,
        time_zone=time_zone,
        created_at=now,
    )
    session.add(organisation)
    note(session, what="organisation.made", now=now, actor_id=actor.person_id)
    return organisation.public_id


def appoint(
    session: Session, actor: Actor, organisation_public_id: str, *, sign_in_name: str, role: str, now: datetime
) -> None:
    """
    Give a person a role in the whole organisation; the owner does, and for the first owner the site administrator.

    Args:
        session: A write session.
        actor: Who asks.
        organisation_public_id: The organisation.
        sign_in_name: Whom to appoint, as typed.
        role: "owner", "instructor" or "foreman".
        now: This moment.

    Raises:
        NotFoundError: When there is no such organisation, or the one who asks has no part in it.
        NotAllowedError: When he has another role in it.
        InputError: With `field` "sign_in_name" or "role", when nobody is called so or there is no such role.
    """
    organisation = _run_by(session, actor, organisation_public_id)
    person = _to_appoint(session, sign_in_name, role)
    values = {"person_id": person.id, "organisation_id": organisation.id, "role": role}
    add_if_missing(session, Membership, **values, started_at=now)
    note(session, what=f"appointed.{role}", now=now, actor_id=actor.person_id, subject_id=person.id)


def whom_to_appoint(
    session: Session, actor: Actor, organisation_public_id: str, *, sign_in_name: str, role: str
) -> str:
    """
    The name of the person whom `appoint` would give this role, to be read once more before it is given.

    Raises:
        NotFoundError, NotAllowedError, InputError: As `appoint`.
    """
    _run_by(session, actor, organisation_public_id)
    return _to_appoint(session, sign_in_name, role).display_name


def _to_appoint(session: Session, sign_in_name: str, role: str) -> PersonLine:
    if role not in STAFF_ROLES:
        raise _refused("groups.role", role, "groups.role-accepted", "instructor", "role")
    person = person_named(session, sign_in_name)
    if person is None:
        raise _refused("groups.nobody", sign_in_name, "groups.nobody-accepted", "kim.lee", "sign_in_name")
    return person


def dismiss(session: Session, actor: Actor, organisation_public_id: str, person_public_id: str, now: datetime) -> None:
    """
    End all that a person leads in an organisation, its groups too, and every naming to sign checks. An owner cannot dismiss himself.

    Raises:
        NotFoundError: When there is no such organisation or person, or the one who asks has no part in it.
        NotAllowedError: When he has another role in it, or means himself.
    """
    organisation = _run_by(session, actor, organisation_public_id)
    person_id = _person_id(session, person_public_id)
    if person_id == actor.person_id:
        raise NotAllowedError(Message("groups.not-oneself"))
    lock_person(session, person_id)
    leading = (
        update(Membership)
        .where(Membership.person_id == person_id, Membership.organisation_id == organisation.id)
        .where(Membership.role.in_(STAFF_ROLES), Membership.ended_at.is_(None))
    )
    session.execute(leading.values(ended_at=now))
    of_person = (Signer.person_id == person_id, Signer.organisation_id == organisation.id, Signer.ended_at.is_(None))
    session.execute(update(Signer).where(*of_person).values(ended_at=now))
    note(session, what="dismissed", now=now, actor_id=actor.person_id, subject_id=person_id)


def staff_of(session: Session, actor: Actor, organisation_public_id: str) -> list[StaffLine]:
    """
    Who has a role in the whole organisation, for its owner or the site administrator.

    Raises:
        NotFoundError: When there is no such organisation, or the one who asks has no part in it.
        NotAllowedError: When he has another role in it.
    """
    organisation = _run_by(session, actor, organisation_public_id)
    query = (
        select(Person.public_id, Person.display_name, Membership.role, Membership.started_at)
        .join(Membership, Membership.person_id == Person.id)
        .where(Membership.organisation_id == organisation.id, Membership.group_id.is_(None))
        .where(Membership.ended_at.is_(None))
        .order_by(Membership.started_at, Membership.id)
    )
    return [StaffLine(*row) for row in session.execute(query)]


def _person_id(session: Session, public_id: str) -> int:
    known = is_public_id(public_id)
    person_id = session.scalar(select(Person.id).where(Person.public_id == public_id)) if known else None
    if person_id is None:
        raise NotFoundError
    return person_id


def _run_by(session: Session, actor: Actor, public_id: str) -> OrganisationRef:
    """An organisation whose roles the one who asks may give."""
    if not actor.is_site_administrator:
        return organisation_owned_by(session, actor, public_id)
    found = find_organisation(session, Organisation.public_id == public_id) if is_public_id(public_id) else None
    if found is None:
        raise NotFoundError
    return found


def _refused(reason: str, given: str, accepted: str, example: str, field: str) -> InputError:
    return InputError(Message(reason), given=given[:400], accepted=Message(accepted), example=example, field=field)
