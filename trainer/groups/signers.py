"""
Who may sign hands-on checks: people whom the owner has named for a kind, on the strength of a licence with a last day.

A naming lets sign from the moment it is made until it is ended or the licence's last day is over. What was signed
meanwhile stays valid after that, and shows that the naming has ended: the person was fit to judge when judging. An owner
who doubts single signatures withdraws those checks, each with its reason. Naming again, with a renewed licence, ends the
old naming and begins a new one, so that each signature keeps the licence under which it was given.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime
from zoneinfo import ZoneInfo

from msgspec import Struct
from sqlalchemy import select, update
from sqlalchemy.orm import Session

from trainer.accounts.access import NotFoundError, organisation_owned_by
from trainer.accounts.actor import Actor
from trainer.accounts.audit import note
from trainer.accounts.refs import OrganisationRef
from trainer.calc.message import InputError, Message
from trainer.problems.hands_on import KINDS
from trainer.records.locks import lock_person
from trainer.records.models import Membership, Person, Signer
from trainer.records.types import is_public_id

__all__ = ["Named", "SignersPage", "end_naming", "name_signer", "read_last_day", "read_licence", "signers_of"]

LONGEST_LICENCE = 120
MOST_YEARS = 50
"""How far ahead the last day of a card may lie: it is a slip beyond that."""


class Named(Struct, frozen=True):
    """
    One naming.

    Args:
        public_id: The naming in addresses.
        person: Name of the person.
        kind: Title of the kind.
        licence: As the owner read it off the card.
        expires_on: Its last day.
        named_at: When the owner named the person.
        ended_at: When that was ended; None while it holds.
        holds: Whether it lets sign today.
    """

    public_id: str
    person: str
    kind: str
    licence: str
    expires_on: date
    named_at: datetime
    ended_at: datetime | None
    holds: bool


class SignersPage(Struct, frozen=True):
    """The organisation, whom its owner may name (public id and name each), and every naming, those that hold first."""

    organisation: OrganisationRef
    staff: tuple[tuple[str, str], ...]
    named: tuple[Named, ...]


def signers_of(session: Session, actor: Actor, organisation_public_id: str, now: datetime) -> SignersPage:
    """
    Who may sign what, for the owner.

    Raises:
        NotFoundError: When there is no such organisation, or the one who asks has no part in it.
        NotAllowedError: When he has another role in it.
    """
    organisation = organisation_owned_by(session, actor, organisation_public_id)
    today = now.astimezone(ZoneInfo(organisation.time_zone)).date()
    query = (
        select(Signer, Person.display_name)
        .join(Person, Person.id == Signer.person_id)
        .where(Signer.organisation_id == organisation.id)
        .order_by(Signer.ended_at.is_not(None), Person.display_name, Signer.id)
    )
    named = tuple(
        Named(
            row.public_id,
            name,
            KINDS[row.kind].title if row.kind in KINDS else row.kind,
            row.licence,
            row.expires_on,
            row.named_at,
            row.ended_at,
            row.ended_at is None and row.expires_on >= today,
        )
        for row, name in session.execute(query)
    )
    return SignersPage(organisation, tuple(_staff(session, organisation).values()), named)


def name_signer(
    session: Session,
    actor: Actor,
    organisation_public_id: str,
    *,
    person: str,
    kinds: Iterable[str],
    licence: str,
    expires_on: str,
    now: datetime,
) -> None:
    """
    Name a person for some kinds of checks; a naming for the same kind that holds already is ended and replaced.

    Args:
        session: A write session.
        actor: The owner.
        organisation_public_id: The organisation.
        person: Public id of someone with a role in the whole organisation.
        kinds: Ids of the kinds.
        licence: Licence or registration, as it stands on the card.
        expires_on: Its last day as a form sends it, 2027-06-30.
        now: This moment.

    Raises:
        NotFoundError: When there is no such organisation, or the one who asks has no part in it.
        NotAllowedError: When he has another role in it.
        InputError: With `field` "person", "kinds", "licence" or "expires_on".
    """
    organisation = organisation_owned_by(session, actor, organisation_public_id)
    today = now.astimezone(ZoneInfo(organisation.time_zone)).date()
    person_id = next((key for key, (id_, _) in _staff(session, organisation).items() if id_ == person), None)
    if person_id is None:
        raise _refused("checks.no-staff", person, "checks.no-staff-accepted", "Kim Lee", "person")
    chosen = list(dict.fromkeys(kinds))
    if not chosen or not set(chosen) <= set(KINDS):
        raise _refused("checks.no-kind", ", ".join(chosen), "checks.no-kind-accepted", "Offset", "kinds")
    words, last = read_licence(licence, "licence"), read_last_day(expires_on, today, "expires_on")
    lock_person(session, person_id)
    of_person = (Signer.organisation_id == organisation.id, Signer.person_id == person_id, Signer.kind.in_(chosen))
    session.execute(update(Signer).where(*of_person, Signer.ended_at.is_(None)).values(ended_at=now))
    more = {"licence": words, "expires_on": last, "named_by_id": actor.person_id, "named_at": now}
    session.add_all(Signer(organisation_id=organisation.id, person_id=person_id, kind=kind, **more) for kind in chosen)
    note(
        session,
        what="signer.named",
        now=now,
        actor_id=actor.person_id,
        subject_id=person_id,
        detail={"kinds": ", ".join(KINDS[kind].title for kind in chosen)},
    )


def end_naming(session: Session, actor: Actor, organisation_public_id: str, public_id: str, now: datetime) -> None:
    """
    Let a person sign no more of one kind. What was signed stays.

    Raises:
        NotFoundError: As `signers_of`, or when there is no such naming that holds.
        NotAllowedError: As `signers_of`.
    """
    organisation = organisation_owned_by(session, actor, organisation_public_id)
    if not is_public_id(public_id):
        raise NotFoundError
    query = select(Signer).where(
        Signer.public_id == public_id, Signer.organisation_id == organisation.id, Signer.ended_at.is_(None)
    )
    row = session.scalar(query)
    if row is None:
        raise NotFoundError
    row.ended_at = now
    kinds = KINDS[row.kind].title if row.kind in KINDS else row.kind
    detail = {"kinds": kinds}
    note(session, what="signer.ended", now=now, actor_id=actor.person_id, subject_id=row.person_id, detail=detail)


def read_licence(text: str, field: str) -> str:
    """A licence or registration as typed; InputError when it is empty or longer than 120 characters."""
    words = " ".join(text.split())
    if not 1 <= len(words) <= LONGEST_LICENCE:
        raise InputError(
            Message("checks.licence"),
            given=text[:400],
            accepted=Message("checks.licence-accepted", {"longest": LONGEST_LICENCE}),
            example="Journeyman, Ohio, 12345",
            field=field,
        )
    return words


def read_last_day(text: str, today: date, field: str) -> date:
    """The last day of a licence, from today on and not more than 50 years ahead; InputError for anything else."""
    try:
        day = date.fromisoformat(text.strip())
    except ValueError:
        raise _refused("checks.no-day", text, "checks.day-accepted", str(today.replace(day=1)), field) from None
    if day < today:
        raise _refused("checks.day-over", text, "checks.day-accepted", str(today), field)
    if day.year > today.year + MOST_YEARS:
        raise _refused("checks.day-far", text, "checks.day-accepted", str(today), field)
    return day


def _staff(session: Session, organisation: OrganisationRef) -> dict[int, tuple[str, str]]:
    """Everybody with a role in the whole organisation, once, by key: public id and name."""
    query = (
        select(Person.id, Person.public_id, Person.display_name)
        .join(Membership, Membership.person_id == Person.id)
        .where(Membership.organisation_id == organisation.id, Membership.group_id.is_(None))
        .where(Membership.ended_at.is_(None))
        .order_by(Person.display_name, Person.id)
    )
    return {key: (public_id, name) for key, public_id, name in session.execute(query)}


def _refused(reason: str, given: str, accepted: str, example: str, field: str) -> InputError:
    return InputError(Message(reason), given=given[:400], accepted=Message(accepted), example=example, field=field)
