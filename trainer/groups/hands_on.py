"""
Hands-on checks in a class or crew: its leaders set them, each with the learner's own numbers, and put them aside.

    set a check, put it aside       who leads the group
    sign it                         who leads the group, is named for the kind, and whose licence holds today;
                                    never the learner
    judge it a second time          the same, somebody else, for the first three of a kind that an organisation signs
    withdraw it, with a reason      who signed it, or the owner
    see it                          who leads the group, also after the learner has left; the learner

Signing and withdrawing stand in `trainer.groups.signing`.
"""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime
from hashlib import sha256

from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.accounts.access import GroupRef, NotAllowedError, NotFoundError, group_led_by
from trainer.accounts.actor import Actor
from trainer.calc.message import InputError, Message
from trainer.calc.shoes import Shoe
from trainer.groups.shoes import newest_shoe
from trainer.problems.hands_on import KINDS, HandsOnDrawError, Kind, Sheet, draw_sheet
from trainer.progress.hands_on import Check, checks_where
from trainer.records.locks import locked
from trainer.records.models import CheckSigning, HandsOnCheck, Membership, Person
from trainer.records.types import is_public_id, new_public_id

__all__ = ["drop", "locked_check", "one_check", "set_checks"]


def set_checks(
    session: Session,
    actor: Actor,
    group_public_id: str,
    *,
    people: Collection[str],
    kind: str,
    trade_size: str,
    now: datetime,
) -> list[str]:
    """
    Set a check for members of a group, each with his own numbers; who has the same one open already keeps it.

    Args:
        session: A write session.
        actor: Who leads the group.
        group_public_id: The group.
        people: Public ids of members.
        kind: Id of the kind.
        trade_size: One of the kind's sizes.
        now: This moment.

    Returns:
        Public ids of the new checks.

    Raises:
        NotFoundError: When the group is not his to know of.
        NotAllowedError: When he does not lead it.
        InputError: With `field` "people", "kind" or "trade_size".
    """
    group = group_led_by(session, actor, group_public_id)
    wanted = _kind(kind, trade_size)
    members = _members(session, group.id, people)
    if not members:
        raise _refused("checks.nobody", ", ".join(people), "checks.nobody-accepted", "Kim Lee", "people")
    open_already = _with_open(session, group.id, kind, trade_size)
    shoe = newest_shoe(session, group.organisation.id, trade_size)
    made = []
    for person_id in members:
        if person_id in open_already:
            continue
        public_id = new_public_id()
        seed = int.from_bytes(sha256(public_id.encode()).digest()[:6], "big")
        session.add(
            HandsOnCheck(
                public_id=public_id,
                person_id=person_id,
                organisation_id=group.organisation.id,
                group_id=group.id,
                kind=kind,
                trade_size=trade_size,
                seed=seed,
                sheet=_drawn(wanted, trade_size, seed, shoe).to_json(),
                issued_by_id=actor.person_id,
                issued_at=now,
            )
        )
        made.append(public_id)
    session.flush()
    return made


def drop(session: Session, actor: Actor, group_public_id: str, public_id: str, now: datetime) -> None:
    """
    Put a check aside that nobody has signed: set by mistake, or the evening was over.

    Raises:
        NotFoundError: When the group is not his to know of, or has no such check.
        NotAllowedError: When he does not lead the group, or the check is signed.
    """
    group = group_led_by(session, actor, group_public_id)
    row = locked_check(session, group, public_id)
    if one_check(session, group, public_id).signings:
        raise NotAllowedError(Message("checks.signed-already"))
    row.dropped_at = row.dropped_at or now


def one_check(session: Session, group: GroupRef, public_id: str) -> Check:
    """A check of a group that was fetched; NotFoundError when it has no such one."""
    if not is_public_id(public_id):
        raise NotFoundError
    found = checks_where(session, HandsOnCheck.group_id == group.id, HandsOnCheck.public_id == public_id)
    if not found:
        raise NotFoundError
    return found[0]


def locked_check(session: Session, group: GroupRef, public_id: str) -> HandsOnCheck:
    """The check's row; two judges who sign at once go one after the other."""
    if not is_public_id(public_id):
        raise NotFoundError
    query = select(HandsOnCheck).where(HandsOnCheck.group_id == group.id, HandsOnCheck.public_id == public_id)
    row = session.scalar(locked(query))
    if row is None:
        raise NotFoundError
    return row


def _kind(kind: str, trade_size: str) -> Kind:
    wanted = KINDS.get(kind)
    if wanted is None:
        raise _refused("checks.no-kind", kind, "checks.no-kind-accepted", "Offset", "kind")
    if trade_size not in wanted.sizes:
        accepted = Message("checks.size-accepted", {"sizes": ", ".join(wanted.sizes), "kind": wanted.title})
        raise InputError(
            Message("checks.size"),
            given=trade_size[:40],
            accepted=accepted,
            example=wanted.sizes[0],
            field="trade_size",
        )
    return wanted


def _drawn(kind: Kind, trade_size: str, seed: int, shoe: tuple[str, Shoe] | None) -> Sheet:
    """A sheet for the shop's own shoe, where it has measured one."""
    try:
        return draw_sheet(kind, trade_size, seed, shoe=shoe[1] if shoe else None, bender=shoe[0] if shoe else "")
    except HandsOnDrawError:
        accepted = Message("checks.size-accepted", {"sizes": ", ".join(kind.sizes), "kind": kind.title})
        raise InputError(
            Message("checks.no-numbers"), given=trade_size, accepted=accepted, example=kind.sizes[0], field="trade_size"
        ) from None


def _members(session: Session, group_id: int, people: Collection[str]) -> list[int]:
    query = (
        select(Person.id)
        .join(Membership, Membership.person_id == Person.id)
        .where(Membership.group_id == group_id, Membership.role == "learner", Membership.ended_at.is_(None))
        .where(Person.public_id.in_([one for one in people if is_public_id(one)]))
        .order_by(Person.display_name, Person.id)
    )
    return list(session.scalars(query))


def _with_open(session: Session, group_id: int, kind: str, trade_size: str) -> set[int]:
    query = (
        select(HandsOnCheck.person_id)
        .outerjoin(CheckSigning, CheckSigning.check_id == HandsOnCheck.id)
        .where(HandsOnCheck.group_id == group_id, HandsOnCheck.kind == kind, HandsOnCheck.trade_size == trade_size)
        .where(HandsOnCheck.dropped_at.is_(None), CheckSigning.id.is_(None))
    )
    return set(session.scalars(query))


def _refused(reason: str, given: str, accepted: str, example: str, field: str) -> InputError:
    return InputError(Message(reason), given=given[:400], accepted=Message(accepted), example=example, field=field)
