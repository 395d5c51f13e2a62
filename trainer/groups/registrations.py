"""
Registrations and licences of a person, each with its last day: entered by the person, or by the owner of a shop or school.

The program shows them. Whether one suffices for a task is judged by those who read the card, under the law of the place.
"""

from __future__ import annotations

from datetime import date, datetime
from zoneinfo import ZoneInfo

from msgspec import Struct
from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.accounts.access import LearnerRef, NotAllowedError, NotFoundError, learner_seen_by
from trainer.accounts.actor import Actor
from trainer.accounts.audit import note
from trainer.accounts.sharing import Shared
from trainer.calc.message import InputError, Message
from trainer.groups.signers import read_last_day, read_licence
from trainer.records.models import Person, Registration
from trainer.records.types import is_public_id

__all__ = ["WHAT", "RegistrationLine", "end_own", "enter_for_member", "enter_own", "of_member", "own_registrations"]

WHAT = ("registration", "licence")


class RegistrationLine(Struct, frozen=True):
    """
    One registration or licence.

    Args:
        public_id: Its name in addresses.
        what: "registration" or "licence".
        words: State, class and number, as entered.
        expires_on: Its last day.
        over: Whether that is past.
        entered_by: Who entered it.
        entered_at: When, in UTC.
    """

    public_id: str
    what: str
    words: str
    expires_on: date
    over: bool
    entered_by: str
    entered_at: datetime


def own_registrations(session: Session, actor: Actor, now: datetime) -> tuple[RegistrationLine, ...]:
    """Those of the one who asks, the last to run out first."""
    return _lines(session, actor.person_id, now.astimezone(actor.zone).date())


def enter_own(session: Session, actor: Actor, *, what: str, words: str, expires_on: str, now: datetime) -> None:
    """
    Enter one of one's own.

    Raises:
        InputError: With `field` "what", "words" or "expires_on".
    """
    _enter(session, actor, actor.person_id, (what, words, expires_on), today=now.astimezone(actor.zone).date(), now=now)


def end_own(session: Session, actor: Actor, public_id: str, now: datetime) -> None:
    """
    Take one of one's own away: wrong, or renewed. The row stays, and is shown no longer.

    Raises:
        NotFoundError: When there is no such one.
    """
    if not is_public_id(public_id):
        raise NotFoundError
    query = select(Registration).where(Registration.public_id == public_id, Registration.ended_at.is_(None))
    row = session.scalar(query.where(Registration.person_id == actor.person_id))
    if row is None:
        raise NotFoundError
    row.ended_at = now
    note(session, what="registration.ended", now=now, actor_id=actor.person_id, subject_id=actor.person_id)


def of_member(
    session: Session, actor: Actor, group_public_id: str, person_public_id: str, now: datetime
) -> tuple[LearnerRef, tuple[RegistrationLine, ...]]:
    """
    A member's, for the owner of the organisation.

    Raises:
        NotFoundError: When the group is not his to know of, or the person is no member.
        NotAllowedError: When he does not own the organisation.
    """
    learner = _owned_member(session, actor, group_public_id, person_public_id)
    today = now.astimezone(ZoneInfo(learner.group.organisation.time_zone)).date()
    return learner, _lines(session, learner.person_id, today)


def enter_for_member(
    session: Session,
    actor: Actor,
    group_public_id: str,
    person_public_id: str,
    *,
    what: str,
    words: str,
    expires_on: str,
    now: datetime,
) -> None:
    """
    Enter one that the owner has read off a member's card.

    Raises:
        NotFoundError: As `of_member`.
        NotAllowedError: As `of_member`.
        InputError: With `field` "what", "words" or "expires_on".
    """
    learner = _owned_member(session, actor, group_public_id, person_public_id)
    today = now.astimezone(ZoneInfo(learner.group.organisation.time_zone)).date()
    _enter(session, actor, learner.person_id, (what, words, expires_on), today=today, now=now)


def _owned_member(session: Session, actor: Actor, group_public_id: str, person_public_id: str) -> LearnerRef:
    learner = learner_seen_by(session, actor, group_public_id, person_public_id, Shared.ASSIGNED)
    if not learner.is_member:
        raise NotFoundError
    organisation = learner.group.organisation
    if all(one.organisation_id != organisation.id for one in actor.owns):
        raise NotAllowedError(Message("access.owners-only", {"organisation": organisation.name}))
    return learner


def _enter(
    session: Session, actor: Actor, person_id: int, typed: tuple[str, str, str], *, today: date, now: datetime
) -> None:
    what, words, expires_on = typed
    if what not in WHAT:
        accepted = Message("checks.what-accepted")
        raise InputError(Message("checks.what"), given=what[:40], accepted=accepted, example=WHAT[0], field="what")
    row = Registration(
        person_id=person_id,
        what=what,
        words=read_licence(words, "words"),
        expires_on=read_last_day(expires_on, today, "expires_on"),
        entered_by_id=actor.person_id,
        entered_at=now,
    )
    session.add(row)
    note(session, what="registration.entered", now=now, actor_id=actor.person_id, subject_id=person_id)


def _lines(session: Session, person_id: int, today: date) -> tuple[RegistrationLine, ...]:
    query = (
        select(Registration, Person.display_name)
        .join(Person, Person.id == Registration.entered_by_id)
        .where(Registration.person_id == person_id, Registration.ended_at.is_(None))
        .order_by(Registration.expires_on.desc(), Registration.id)
    )
    return tuple(
        RegistrationLine(
            row.public_id, row.what, row.words, row.expires_on, row.expires_on < today, name, row.entered_at
        )
        for row, name in session.execute(query)
    )
