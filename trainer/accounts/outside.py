"""Accounts at another site that sign their people in here: known by issuer and subject, and by nothing else."""

from __future__ import annotations

import re
import secrets
from datetime import datetime, timedelta

from msgspec import Struct
from sqlalchemy import delete, select
from sqlalchemy.orm import Session

from trainer.accounts.audit import note
from trainer.accounts.names import LONGEST, fold_sign_in_name, is_sign_in_name, read_display_name
from trainer.accounts.openid import Identity
from trainer.accounts.people import create_person, delete_person
from trainer.accounts.refused import Refused
from trainer.accounts.sessions import USUAL_LIFE, SignInLife
from trainer.accounts.sign_in import Proved, proved
from trainer.calc.message import InputError, Message
from trainer.records.locks import add_if_missing, lock_person
from trainer.records.models import OutsideAccount, Person

__all__ = [
    "Link",
    "admit_newcomer",
    "link",
    "link_of",
    "person_of_identity",
    "prove_outside",
    "suggested_names",
    "unlink",
]

MOST_NAMES = 50
JUST_NOW = timedelta(minutes=10)
"""How long ago somebody may have signed in at the other site to have done so for this; a code at a phone takes its time."""


def person_of_identity(session: Session, identity: Identity) -> int | None:
    """Who signs in with an account at the other site; None when nobody here has it."""
    query = select(OutsideAccount.person_id).where(
        OutsideAccount.issuer == identity.issuer, OutsideAccount.subject == identity.subject
    )
    return session.scalar(query)


class Link(Struct, frozen=True):
    """
    An account at the other site that signs a person in.

    Args:
        since: When it was linked.
        is_only_way: Whether the person has no password here, so that nothing else does.
    """

    since: datetime
    is_only_way: bool


def link_of(session: Session, person_id: int, issuer: str) -> Link | None:
    """The account at this issuer that signs a person in; None when none does."""
    query = (
        select(OutsideAccount.linked_at, Person.password_hash.is_(None))
        .join(Person, Person.id == OutsideAccount.person_id)
        .where(OutsideAccount.person_id == person_id, OutsideAccount.issuer == issuer)
    )
    row = session.execute(query).one_or_none()
    return None if row is None else Link(row[0], bool(row[1]))


def link(session: Session, person_id: int, identity: Identity, now: datetime) -> bool:
    """
    Let an account at the other site sign a person in; another one of the same issuer does no more.

    The caller has looked at the person's password.

    Returns:
        False when the account signs somebody else in; then nothing is changed.
    """
    lock_person(session, person_id)
    holder = person_of_identity(session, identity)
    if holder is not None:
        return holder == person_id
    _remove(session, person_id, identity.issuer)
    values = {"issuer": identity.issuer, "subject": identity.subject, "person_id": person_id, "linked_at": now}
    if not add_if_missing(session, OutsideAccount, **values):
        return False
    note(session, what="outside.linked", now=now, actor_id=person_id, subject_id=person_id)
    return True


def unlink(session: Session, person_id: int, issuer: str, now: datetime) -> Refused | None:
    """
    Let no account at this issuer sign a person in any more.

    Returns:
        A refusal for whoever has no password here: nobody is locked out by it.
    """
    if lock_person(session, person_id).password_hash is None:
        return Refused(Message("accounts.outside-only-way"))
    if _remove(session, person_id, issuer):
        note(session, what="outside.unlinked", now=now, actor_id=person_id, subject_id=person_id)
    return None


def prove_outside(
    session: Session, person_id: int, identity: Identity, now: datetime, *, token: str, life: SignInLife = USUAL_LIFE
) -> Proved | Refused:
    """Take it that whoever sits at a signed-in browser, and has just signed in at the other site, is its person."""
    if person_of_identity(session, identity) != person_id:
        return Refused(Message("accounts.outside-other"))
    if identity.signed_in_at is None or abs(now - identity.signed_in_at) > JUST_NOW:
        return Refused(Message("accounts.outside-not-anew"))
    return proved(session, token, now, life=life) or Refused(Message("accounts.outside-lost"))


def suggested_names(session: Session, identity: Identity) -> tuple[str, str]:
    """What a newcomer could be called here: a sign-in name that nobody has, and a name for others to read, or ""."""
    return _free_name(session, identity), _display_name(identity)


def admit_newcomer(
    session: Session,
    identity: Identity,
    *,
    sign_in_name: str,
    display_name: str,
    now: datetime,
) -> int | None:
    """
    Make a person whom an account at the other site signs in, and who has no password here.

    Returns:
        The key of the person; None when the account signs somebody in already, and then nobody is made.

    Raises:
        InputError: With `field` "sign_in_name" or "display_name", when it cannot be one.
    """
    if person_of_identity(session, identity) is not None:
        return None
    person = create_person(session, sign_in_name=sign_in_name, display_name=display_name, password=None, now=now)
    if link(session, person.id, identity, now):
        return person.id
    # Somebody else has linked the account at this very moment.
    delete_person(session, person.id, now)
    return None


def _remove(session: Session, person_id: int, issuer: str) -> bool:
    of_person = (OutsideAccount.person_id == person_id, OutsideAccount.issuer == issuer)
    held = session.scalars(select(OutsideAccount.id).where(*of_person)).first()
    session.execute(delete(OutsideAccount).where(*of_person))
    return held is not None


def _display_name(identity: Identity) -> str:
    """The name at the other site, where it can be one here."""
    for text in (identity.name, identity.user_name):
        try:
            return read_display_name(text)
        except InputError:
            continue
    return ""


def _free_name(session: Session, identity: Identity) -> str:
    """A sign-in name that is near to the one at the other site, and that nobody has."""
    near = fold_sign_in_name((identity.user_name or identity.name).split("@")[0])
    base = re.sub(r"[^a-z0-9]+", ".", near).strip(".0123456789")[: LONGEST - 5].rstrip(".")
    base = base if is_sign_in_name(base) else "newcomer"
    wanted = [base, *(f"{base}.{number}" for number in range(2, MOST_NAMES))]
    taken = {*session.scalars(select(Person.sign_in_name).where(Person.sign_in_name.in_(wanted)))}
    return next((name for name in wanted if name not in taken), f"{base}.{secrets.token_hex(2)}")
