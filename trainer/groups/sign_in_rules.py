"""Which roles of a school or shop have to set up a second factor: its owner decides."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from msgspec import Struct
from sqlalchemy import select, update
from sqlalchemy.orm import Session

from trainer.accounts.access import organisation_owned_by
from trainer.accounts.actor import Actor
from trainer.accounts.audit import note
from trainer.accounts.refs import OrganisationRef
from trainer.calc.message import InputError, Message
from trainer.groups.organisations import ROLES_OF_KIND
from trainer.records.models import Organisation

__all__ = ["SignInRules", "ask_for_codes", "sign_in_rules"]


class SignInRules(Struct, frozen=True):
    """
    What an organisation asks for at sign-in.

    Args:
        organisation: The organisation.
        roles: Roles that it can ask.
        asked: Those that it asks for a second factor.
    """

    organisation: OrganisationRef
    roles: tuple[str, ...]
    asked: tuple[str, ...]


def sign_in_rules(session: Session, actor: Actor, organisation_public_id: str) -> SignInRules:
    """
    What holds, for the owner.

    Raises:
        NotFoundError: When there is no such organisation, or the one who asks has no part in it.
        NotAllowedError: When he has another role in it.
    """
    organisation = organisation_owned_by(session, actor, organisation_public_id)
    held = session.scalars(select(Organisation.second_factor_for).where(Organisation.id == organisation.id)).one()
    return SignInRules(organisation, ROLES_OF_KIND[organisation.kind], tuple(held.split()))


def ask_for_codes(
    session: Session, actor: Actor, organisation_public_id: str, *, roles: Iterable[str], now: datetime
) -> None:
    """
    Ask these roles for a second factor from now on, and no others.

    Raises:
        NotFoundError, NotAllowedError: As `sign_in_rules`.
        InputError: With `field` "roles", when there is no such role in it.
    """
    rules = sign_in_rules(session, actor, organisation_public_id)
    wanted = {*roles}
    for role in sorted(wanted - {*rules.roles}):
        accepted = Message("groups.role-accepted")
        raise InputError(
            Message("groups.role"), given=role[:400], accepted=accepted, example=rules.roles[0], field="roles"
        )
    asked = tuple(role for role in rules.roles if role in wanted)
    if asked == rules.asked:
        return
    row = update(Organisation).where(Organisation.id == rules.organisation.id)
    session.execute(row.values(second_factor_for=" ".join(asked)))
    note(session, what="sign-in-rules.changed", now=now, actor_id=actor.person_id)
