"""Which local rules a school or shop follows beside the code: its owner chooses them from those on the shelf."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from sqlalchemy import update
from sqlalchemy.orm import Session

from trainer.accounts.access import organisation_owned_by
from trainer.accounts.actor import Actor
from trainer.accounts.audit import note
from trainer.accounts.refs import OrganisationRef
from trainer.calc.message import InputError, Message
from trainer.library.shelf import Library
from trainer.records.models import Organisation

__all__ = ["follow", "followed"]


def followed(session: Session, actor: Actor, organisation_public_id: str) -> OrganisationRef:
    """
    The organisation with its local rules, for its owner.

    Raises:
        NotFoundError: When there is no such organisation, or the one who asks has no part in it.
        NotAllowedError: When he has another role in it.
    """
    return organisation_owned_by(session, actor, organisation_public_id)


def follow(
    session: Session,
    library: Library,
    actor: Actor,
    organisation_public_id: str,
    *,
    rules: Iterable[str],
    now: datetime,
) -> None:
    """
    Follow these local rules from now on, and no others. Work that was given before is asked as it was given.

    Args:
        session: A write session.
        library: The content, with the rules there are.
        actor: Who asks.
        organisation_public_id: The organisation.
        rules: Ids of the rules.
        now: This moment.

    Raises:
        NotFoundError: When there is no such organisation, or the one who asks has no part in it.
        NotAllowedError: When he has another role in it.
        InputError: With `field` "rules", when there is no such rule.
    """
    organisation = organisation_owned_by(session, actor, organisation_public_id)
    chosen = sorted({*rules})
    for rule in chosen:
        if rule not in library.local_rules:
            example = next(iter(library.local_rules), "")
            accepted = Message("groups.local-rule-accepted")
            raise InputError(
                Message("groups.local-rule"), given=rule[:400], accepted=accepted, example=example, field="rules"
            )
    if tuple(chosen) == tuple(sorted(organisation.local_rules)):
        return
    row = update(Organisation).where(Organisation.id == organisation.id)
    session.execute(row.values(local_rules=" ".join(chosen)))
    note(session, what="local-rules.changed", now=now, actor_id=actor.person_id)
