"""The organisations of the site for who looks after it, and one organisation with the people who have a role in it."""

from __future__ import annotations

from msgspec import Struct
from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.accounts.actor import Actor
from trainer.accounts.refs import OrganisationRef, find_organisation
from trainer.calc.message import Message
from trainer.groups.organisations import StaffLine, staff_of
from trainer.records.models import Membership, Organisation, Person

__all__ = ["OrganisationLine", "StaffPage", "organisations_of_site", "staff_page"]


class OrganisationLine(Struct, frozen=True):
    """An organisation and the names of its owners."""

    organisation: str
    name: str
    kind: str
    time_zone: str
    owners: tuple[str, ...]


class StaffPage(Struct, frozen=True):
    """An organisation and who has a role in the whole of it."""

    organisation: OrganisationRef
    staff: tuple[StaffLine, ...]


def organisations_of_site(session: Session, actor: Actor) -> list[OrganisationLine]:
    """
    All organisations by name, with their owners and nothing else of the people in them.

    Raises:
        NotAllowedError: When the one who asks does not look after the site.
    """
    if not actor.is_site_administrator:
        raise NotAllowedError(Message("groups.administrator-only"))
    owners = (
        select(Membership.organisation_id, Person.display_name)
        .join(Person, Person.id == Membership.person_id)
        .where(Membership.role == "owner", Membership.ended_at.is_(None))
        .order_by(Membership.started_at, Membership.id)
    )
    names: dict[int, list[str]] = {}
    for organisation_id, name in session.execute(owners):
        names.setdefault(organisation_id, []).append(name)
    rows = session.scalars(select(Organisation).order_by(Organisation.name, Organisation.id))
    return [
        OrganisationLine(row.public_id, row.name, row.kind, row.time_zone, tuple(names.get(row.id, ()))) for row in rows
    ]


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
