"""Making, changing and deleting people."""

from __future__ import annotations

from datetime import datetime

from msgspec import Struct
from sqlalchemy import delete, select, update
from sqlalchemy.orm import Session

from trainer.accounts import second_factor
from trainer.accounts.audit import note
from trainer.accounts.names import fold_sign_in_name, is_sign_in_name, read_display_name, read_sign_in_name
from trainer.accounts.passwords import SITE_PASSWORDS, Passwords, one_time_password, read_new_password
from trainer.accounts.sessions import end_sessions, forget_sessions
from trainer.calc.message import InputError, Message
from trainer.records.append_only import forget_words
from trainer.records.locks import add_if_missing, lock_person, locked
from trainer.records.models import (
    CalendarFeed,
    CheckPhoto,
    CheckSigning,
    CheckWithdrawal,
    FieldFinding,
    FindingPhoto,
    HandsOnCheck,
    JobHours,
    KeyClaim,
    Membership,
    OutsideAccount,
    Person,
    Registration,
    ResultMark,
    Share,
    Signer,
    WorkExtension,
)
from trainer.records.types import new_public_id

__all__ = [
    "DELETED_NAME",
    "LastAdministratorError",
    "PersonLine",
    "change_display_name",
    "create_person",
    "delete_person",
    "person_named",
    "reset_password",
]

DELETED_NAME = "–"
"""Stands where a deleted person's name stood; pages put their own words beside it."""


class LastAdministratorError(RuntimeError):
    """The site would be left without anyone who may look after it."""


class PersonLine(Struct, frozen=True):
    """A person, plainly. `sign_in_name` is None and `deleted_at` set once the person is deleted."""

    id: int
    public_id: str
    sign_in_name: str | None
    display_name: str
    must_change_password: bool
    is_site_administrator: bool
    created_at: datetime
    deleted_at: datetime | None


def create_person(
    session: Session,
    *,
    sign_in_name: str,
    display_name: str,
    password: str | None,
    now: datetime,
    must_change_password: bool = False,
    is_site_administrator: bool = False,
    passwords: Passwords = SITE_PASSWORDS,
    public_id: str | None = None,
) -> PersonLine:
    """
    Make a person.

    Args:
        session: A write session.
        sign_in_name: As typed; folded by `read_sign_in_name`.
        display_name: As typed.
        password: As typed, or from `one_time_password`; None for whom an account at another site signs in.
        now: This moment.
        must_change_password: Whether the first sign-in asks for a new one.
        is_site_administrator: Whether the person looks after the site; that opens nobody's record.
        passwords: How to store the password.
        public_id: Given for invented people, so that their problems have the same numbers each time; else random.

    Raises:
        InputError: With `field` "sign_in_name", "display_name" or "password", when one cannot be used.
    """
    name = read_sign_in_name(sign_in_name)
    shown = read_display_name(display_name)
    stored = None
    if password is not None:
        stored = passwords.store(read_new_password(password, sign_in_name=name, field="password"))
    public_id = public_id or new_public_id()
    add_if_missing(
        session,
        Person,
        public_id=public_id,
        sign_in_name=name,
        display_name=shown,
        password_hash=stored,
        must_change_password=must_change_password,
        is_site_administrator=is_site_administrator,
        created_at=now,
    )
    made = session.scalar(select(Person).where(Person.public_id == public_id))
    if made is None:
        raise _taken(sign_in_name, name)
    note(session, what="person.created", now=now, subject_id=made.id)
    return _line(made)


def _taken(typed: str, name: str) -> InputError:
    return InputError(
        Message("accounts.sign-in-name-taken", {"name": name}),
        given=typed,
        accepted=Message("accounts.sign-in-name-free"),
        example=f"{name[:37]}.2",
        field="sign_in_name",
    )


def person_named(session: Session, sign_in_name: str) -> PersonLine | None:
    """The person who signs in with this name, however it is written; None when there is none."""
    name = fold_sign_in_name(sign_in_name)
    found = session.scalar(select(Person).where(Person.sign_in_name == name)) if is_sign_in_name(name) else None
    return None if found is None else _line(found)


def change_display_name(session: Session, person_id: int, display_name: str, now: datetime) -> None:
    """
    Let others read another name.

    Raises:
        InputError: With `field` "display_name", when it cannot be one.
    """
    shown = read_display_name(display_name)
    lock_person(session, person_id).display_name = shown
    note(session, what="person.renamed", now=now, actor_id=person_id, subject_id=person_id)


def reset_password(
    session: Session,
    person_id: int,
    now: datetime,
    *,
    by_id: int | None = None,
    passwords: Passwords = SITE_PASSWORDS,
) -> str:
    """
    Give a person a one-time password and end all of that person's sessions.

    The caller has made sure that `by_id` may do so. (None: the command line.)

    Returns:
        The one-time password; it is stored nowhere.
    """
    once = one_time_password()
    person = lock_person(session, person_id)
    person.password_hash = passwords.store(once)
    person.must_change_password = True
    end_sessions(session, person_id, now)
    note(session, what="password.reset", now=now, actor_id=by_id, subject_id=person_id)
    return once


def delete_person(session: Session, person_id: int, now: datetime, *, by_id: int | None = None) -> None:
    """
    Strip a person's identity and end memberships and sharing. Answers and results stay, no longer anybody's.

    What others wrote about the person, and what the person wrote beside hours, may hold a name: it goes too, and so do
    the photographs of the person's work.

    A second call changes nothing.

    Raises:
        LastAdministratorError: When nobody would be left to look after the site.
    """
    person = lock_person(session, person_id)
    if person.deleted_at is not None:
        return
    if person.is_site_administrator and _administrators(session) == 1:
        raise LastAdministratorError("Make somebody else an administrator first.")
    for table in (Membership, Share):
        session.execute(
            update(table).where(table.person_id == person_id, table.ended_at.is_(None)).values(ended_at=now)
        )
    named = update(Membership).where(Membership.person_id == person_id)
    session.execute(named.values(roster_name=None, roster_number=None))
    session.execute(delete(CalendarFeed).where(CalendarFeed.person_id == person_id))
    _forget_words(session, person_id)
    forget_sessions(session, person_id)
    second_factor.forget(session, person_id)
    session.execute(delete(OutsideAccount).where(OutsideAccount.person_id == person_id))
    person.sign_in_name = None
    person.display_name = DELETED_NAME
    person.password_hash = None
    person.is_site_administrator = False
    person.must_change_password = False
    person.deleted_at = now
    note(session, what="person.deleted", now=now, actor_id=by_id, subject_id=person_id)


def _forget_words(session: Session, person_id: int) -> None:
    """Take what anybody typed about the person, and photographs of the person's work. A reason stays where one must be."""
    findings = select(FieldFinding.id).where(FieldFinding.person_id == person_id)
    checks = select(HandsOnCheck.id).where(HandsOnCheck.person_id == person_id)
    session.execute(delete(FindingPhoto).where(FindingPhoto.finding_id.in_(findings)))
    session.execute(delete(CheckPhoto).where(CheckPhoto.check_id.in_(checks)))
    gone = DELETED_NAME
    for change in (
        update(FieldFinding).where(FieldFinding.person_id == person_id).values(note=gone),
        update(FieldFinding)
        .where(FieldFinding.person_id == person_id, FieldFinding.withdrawn_at.is_not(None))
        .values(withdrawn_reason=gone),
        update(JobHours).where(JobHours.person_id == person_id).values(note=""),
        update(JobHours).where(JobHours.person_id == person_id, JobHours.reason.is_not(None)).values(reason=gone),
        update(WorkExtension).where(WorkExtension.person_id == person_id).values(reason=gone),
        # A licence's number tells who somebody is; its last day stays with what was signed under it.
        update(Registration).where(Registration.person_id == person_id).values(words=gone),
        update(Signer).where(Signer.person_id == person_id).values(licence=gone),
        update(KeyClaim).where(KeyClaim.person_id == person_id).values(own_answer=gone, why=gone, reply=""),
    ):
        session.execute(change)
    forget_words(session, CheckSigning, CheckSigning.check_id.in_(checks), "")
    forget_words(session, CheckWithdrawal, CheckWithdrawal.check_id.in_(checks), gone)
    forget_words(session, ResultMark, ResultMark.person_id == person_id, gone)


def _administrators(session: Session) -> int:
    """How many look after the site; they are locked, so that two cannot leave at once."""
    query = select(Person.id).where(Person.is_site_administrator).order_by(Person.id)
    return len(session.scalars(locked(query)).all())


def _line(person: Person) -> PersonLine:
    return PersonLine(
        id=person.id,
        public_id=person.public_id,
        sign_in_name=person.sign_in_name,
        display_name=person.display_name,
        must_change_password=person.must_change_password,
        is_site_administrator=person.is_site_administrator,
        created_at=person.created_at,
        deleted_at=person.deleted_at,
    )
