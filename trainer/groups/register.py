"""The organisations of the site for who looks after it, and one organisation with the people who have a role in it."""

from __future__ import annotations

from msgspec import Struct
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.accounts.actor import Actor
from trainer.accounts.refs import OrganisationRef, find_organisation
from trainer.calc.message import Message
from trainer.groups.organisations import StaffLine, staff_of
from trainer.records.models import Membership, Organisation, Person

__all__ = ["MOST_LISTED", "OrganisationLine", "OrganisationList", "StaffPage", "organisations_of_site", "staff_page"]

MOST_LISTED = 10
"""Organisations at a time: a state has some hundred, and one is looked for by its name."""


class OrganisationLine(Struct, frozen=True):
    """An organisation and the names of its owners."""

    organisation: str
    name: str
    kind: str
    time_zone: str
    owners: tuple[str, ...]


class OrganisationList(Struct, frozen=True):
    """
    Organisations of the site.

    Args:
        lines: Those that are listed.
        named: How many there are with such a name.
    """

    lines: tuple[OrganisationLine, ...]
    named: int


class StaffPage(Struct, frozen=True):
    """An organisation and who has a role in the whole of it."""

    organisation: OrganisationRef
    staff: tuple[StaffLine, ...]


def organisations_of_site(session: Session, actor: Actor, named: str = "") -> OrganisationList:
    """
    The first organisations by name, with their owners and nothing else of the people in them. Three queries.

    Args:
        session: Any session.
        actor: Who asks.
        named: A part of the names of those that are wanted; "" for all.

    Raises:
        NotAllowedError: When the one who asks does not look after the site.
    """
    if not actor.is_site_administrator:
        raise NotAllowedError(Message("groups.administrator-only"))
    wanted = Organisation.name.icontains(named, autoescape=True)
    first = select(Organisation).where(wanted).order_by(Organisation.name, Organisation.id).limit(MOST_LISTED)
    rows = session.scalars(first).all()
    owners = (
        select(Membership.organisation_id, Person.display_name)
        .join(Person, Person.id == Membership.person_id)
        .where(Membership.organisation_id.in_({row.id for row in rows}))
        .where(Membership.role == "owner", Membership.ended_at.is_(None))
        .order_by(Membership.started_at, Membership.id)
    )
    names: dict[int, list[str]] = {}
    for organisation_id, name in session.execute(owners):
        names.setdefault(organisation_id, []).append(name)
    lines = tuple(
        OrganisationLine(row.public_id, row.name, row.kind, row.time_zone, tuple(names.get(row.id, ()))) for row in rows
    )
    return OrganisationList(lines, session.scalar(select(func.count()).select_from(Organisation).where(wanted)) or 0)


def staff_page(session: Session, actor: Actor, organisation_public_id: str) -> StaffPage:
    """
    An organisation and its staff, for its owner or the site administrator.

    Raises:
        NotFoundError: When there is no such organisation, or the one who asks has no part in it.
        NotAllowedError: When he has another role in it.
    """
    staff = staff_of(session, actor, organisation_public_id)
    found = find_organisation(session, Organisation.public_id == organisation_public_id)
    if found is None:
        raise NotFoundError
    return StaffPage(found, tuple(staff))
