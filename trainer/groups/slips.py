"""Whose first password may be printed: members of a group who have not set one of their own."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct
from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.accounts.refs import GroupRef
from trainer.records.models import Membership, Person

__all__ = ["SlipPerson", "slips_of"]


class SlipPerson(Struct, frozen=True):
    """A person as a slip names him."""

    public_id: str
    sign_in_name: str
    display_name: str


def slips_of(session: Session, group: GroupRef, people: Sequence[str]) -> list[SlipPerson]:
    """Those of these people who learn in a group that was fetched and still have the password of their slip, by name."""
    query = (
        select(Person.public_id, Person.sign_in_name, Person.display_name)
        .join(Membership, Membership.person_id == Person.id)
        .where(Membership.group_id == group.id, Membership.role == "learner", Membership.ended_at.is_(None))
        .where(Person.public_id.in_(people), Person.must_change_password, Person.sign_in_name.is_not(None))
        .order_by(Person.display_name, Person.id)
    )
    return [SlipPerson(key, sign_in or "", shown) for key, sign_in, shown in session.execute(query)]
