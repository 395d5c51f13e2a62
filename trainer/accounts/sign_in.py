"""
Signing in, with a code as second step where the person has set that up; showing anew who one is; changing one's password.

A refusal is a value, not an exception: an exception would roll back the count of failures along with the rest.
"""

from __future__ import annotations

from datetime import datetime

from msgspec import Struct
from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.accounts import throttle
from trainer.accounts.audit import note
from trainer.accounts.half import CodeDue, end_half, open_half, person_of_half
from trainer.accounts.names import fold_sign_in_name, is_sign_in_name
from trainer.accounts.passwords import SITE_PASSWORDS, Check, Passwords, read_new_password
from trainer.accounts.refused import Refused, too_often
from trainer.accounts.second_factor import is_in_force
from trainer.accounts.sessions import USUAL_LIFE, SignInLife, end_sessions, open_session, renew, sign_out
from trainer.accounts.spending import spend_code
from trainer.calc.message import Message
from trainer.records.locks import lock_person, locked
from trainer.records.models import Person

__all__ = [
    "CodeDue",
    "PasswordChanged",
    "Proved",
    "Refused",
    "SignedIn",
    "change_password",
    "finish_sign_in",
    "let_in",
    "prove",
    "proved",
    "sign_in",
]


class SignedIn(Struct, frozen=True):
    """
    A sign-in that worked.

    Args:
        token: For the cookie; stored nowhere.
        expires_at: When the session ends at the latest.
        person_id: Whose it is.
        must_change_password: Whether a new password is due before anything else.
    """

    token: str
    expires_at: datetime
    person_id: int
    must_change_password: bool


class PasswordChanged(Struct, frozen=True):
    """The new password is in force, and all other sessions have ended."""


def sign_in(
    session: Session,
    name: str,
    password: str,
    *,
    address: str,
    device: str,
    now: datetime,
    old_token: str | None = None,
    passwords: Passwords = SITE_PASSWORDS,
    life: SignInLife = USUAL_LIFE,
) -> SignedIn | CodeDue | Refused:
    """
    Try to sign in. Who has set up a second factor is not in yet: `finish_sign_in` takes the code.

    Args:
        session: A write session; it is held over the 25 ms of the password check, which at two workers delays one
            other write at most, and keeps tries at the same moment from slipping past the count.
        name: Sign-in name as typed.
        password: As typed.
        address: Where the request comes from.
        device: What the browser says about itself, for the person's list of sessions.
        now: This moment.
        old_token: Token that the browser has held so far; its session ends when this sign-in works.
        passwords: How passwords are stored.
        life: How long sign-ins last.
    """
    folded = fold_sign_in_name(name)
    guard = throttle.SignInGuard(session, folded, address, now)
    if pause := guard.wait():
        return too_often(pause)
    person = _locked_person(session, folded)
    check = passwords.check(None if person is None else person.password_hash, password)
    if person is None or check is Check.WRONG:
        guard.failed()
        return Refused(Message("accounts.sign-in-wrong"))
    guard.succeeded()
    if check is Check.RIGHT_BUT_OUTDATED:
        person.password_hash = passwords.store(password)
    return let_in(session, person.id, device=device, now=now, old_token=old_token, life=life)


def let_in(
    session: Session,
    person_id: int,
    *,
    device: str,
    now: datetime,
    old_token: str | None,
    life: SignInLife = USUAL_LIFE,
) -> SignedIn | CodeDue:
    """What follows when somebody has shown who it is: a session, or the code that is still due."""
    if is_in_force(session, person_id):
        return open_half(session, person_id, now)
    return _opened(session, person_id, device, now, old_token, life=life)


def finish_sign_in(
    session: Session,
    half_token: str,
    typed: str,
    *,
    device: str,
    now: datetime,
    key: str,
    old_token: str | None = None,
    passwords: Passwords = SITE_PASSWORDS,
    life: SignInLife = USUAL_LIFE,
) -> SignedIn | Refused | None:
    """
    The second step: a code of the app, or one on paper.

    Args:
        session: A write session.
        half_token: Token of the half sign-in.
        typed: The code, as typed.
        device: What the browser says about itself.
        now: This moment.
        key: The site's secret key.
        old_token: Token that the browser has held so far; its session ends when this sign-in works.
        passwords: How codes on paper are stored.
        life: How long sign-ins last.

    Returns:
        None when the half sign-in is unknown or over; it begins again with the password.
    """
    person_id = person_of_half(session, half_token, now)
    if person_id is None:
        return None
    if refused := spend_code(session, person_id, typed, now, key=key, passwords=passwords):
        return refused
    # The person is locked since the code was looked at: a second try at the same moment finds no half sign-in here.
    if person_of_half(session, half_token, now) is None:
        return None
    end_half(session, half_token)
    return _opened(session, person_id, device, now, old_token, life=life)


def _opened(
    session: Session, person_id: int, device: str, now: datetime, old_token: str | None, *, life: SignInLife
) -> SignedIn:
    if old_token is not None:
        sign_out(session, old_token, now)
    token, expires_at = open_session(session, person_id, device, now, life=life)
    return SignedIn(token, expires_at, person_id, session.get_one(Person, person_id).must_change_password)


def _locked_person(session: Session, folded: str) -> Person | None:
    if not is_sign_in_name(folded):
        return None
    return session.scalar(locked(select(Person).where(Person.sign_in_name == folded)))


def change_password(
    session: Session,
    person_id: int,
    old: str,
    new: str,
    now: datetime,
    *,
    keep_token: str | None,
    passwords: Passwords = SITE_PASSWORDS,
) -> PasswordChanged | Refused:
    """
    Set a new password and end the person's other sessions.

    Args:
        session: A write session.
        person_id: Whose password.
        old: The one in force, as typed.
        new: The one wanted, as typed.
        now: This moment.
        keep_token: Token of the session that stays open.
        passwords: How passwords are stored.

    Raises:
        InputError: With `field` "new_password", when that one cannot be used; the old one has not been looked at then.
    """
    person = lock_person(session, person_id)
    wanted = read_new_password(new, sign_in_name=person.sign_in_name or "", old=old)
    if refused := _wrong_password(session, person, old, now, passwords):
        return refused
    person.password_hash = passwords.store(wanted)
    person.must_change_password = False
    end_sessions(session, person_id, now, keep_token=keep_token)
    note(session, what="password.changed", now=now, actor_id=person_id, subject_id=person_id)
    return PasswordChanged()


class Proved(Struct, frozen=True):
    """
    Whoever sits at the browser has shown anew who it is.

    Args:
        token: For the cookie, in place of the one that was there; stored nowhere.
        expires_at: When the session ends at the latest.
    """

    token: str
    expires_at: datetime


def proved(session: Session, token: str, now: datetime, *, life: SignInLife = USUAL_LIFE) -> Proved | None:
    """Note it, and give the session another token; None when the session has ended meanwhile."""
    renewed = renew(session, token, now, life=life)
    return None if renewed is None else Proved(*renewed)


def prove(
    session: Session,
    person_id: int,
    typed: str,
    now: datetime,
    *,
    token: str,
    passwords: Passwords = SITE_PASSWORDS,
    life: SignInLife = USUAL_LIFE,
) -> Proved | Refused:
    """
    Look at the password of somebody who has been signed in for a while and wants something that is dear to change.

    Args:
        session: A write session.
        person_id: Who is signed in.
        typed: The password, as typed.
        now: This moment.
        token: Token of the session.
        passwords: How passwords are stored.
        life: How long sign-ins last.
    """
    person = lock_person(session, person_id)
    if refused := _wrong_password(session, person, typed, now, passwords):
        return refused
    return proved(session, token, now, life=life) or Refused(Message("accounts.signed-out-meanwhile"))


def _wrong_password(
    session: Session, person: Person, typed: str, now: datetime, passwords: Passwords
) -> Refused | None:
    """Why the password of somebody who is signed in is not looked at, or not right; None when it is."""
    subject = str(person.id)
    if pause := throttle.wait(session, throttle.OLD_PASSWORD, subject, now):
        return too_often(pause)
    if passwords.check(person.password_hash, typed) is Check.WRONG:
        throttle.failed(session, throttle.OLD_PASSWORD, subject, now)
        return Refused(Message("accounts.old-password-wrong"))
    return None
