"""
Signing in, and changing one's password.

A refusal is a value, not an exception: an exception would roll back the count of failures along with the rest.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from math import ceil

from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.accounts import throttle
from trainer.accounts.audit import note
from trainer.accounts.names import fold_sign_in_name, is_sign_in_name
from trainer.accounts.passwords import SITE_PASSWORDS, Check, Passwords, read_new_password
from trainer.accounts.sessions import end_sessions, open_session, sign_out
from trainer.calc.message import Message
from trainer.records.locks import lock_person, locked
from trainer.records.models import Person

__all__ = ["PasswordChanged", "Refused", "SignedIn", "change_password", "sign_in"]


@dataclass(frozen=True, slots=True)
class SignedIn:
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


@dataclass(frozen=True, slots=True)
class Refused:
    """
    It did not work.

    Args:
        reason: What to say. It does not tell whether the name or the password was wrong.
        wait: How long nothing will be tried; zero when it may be tried again at once.
    """

    reason: Message
    wait: timedelta = timedelta(0)


@dataclass(frozen=True, slots=True)
class PasswordChanged:
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
) -> SignedIn | Refused:
    """
    Try to sign in.

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
    """
    folded = fold_sign_in_name(name)
    guard = throttle.SignInGuard(session, folded, address, now)
    if pause := guard.wait():
        return _too_often(pause)
    person = _locked_person(session, folded)
    check = passwords.check(None if person is None else person.password_hash, password)
    if person is None or check is Check.WRONG:
        guard.failed()
        return Refused(Message("accounts.sign-in-wrong"))
    guard.succeeded()
    if check is Check.RIGHT_BUT_OUTDATED:
        person.password_hash = passwords.store(password)
    if old_token is not None:
        sign_out(session, old_token, now)
    token, expires_at = open_session(session, person.id, device, now)
    return SignedIn(token, expires_at, person.id, person.must_change_password)


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
    subject = str(person_id)
    if pause := throttle.wait(session, throttle.OLD_PASSWORD, subject, now):
        return _too_often(pause)
    if passwords.check(person.password_hash, old) is Check.WRONG:
        throttle.failed(session, throttle.OLD_PASSWORD, subject, now)
        return Refused(Message("accounts.old-password-wrong"))
    person.password_hash = passwords.store(wanted)
    person.must_change_password = False
    end_sessions(session, person_id, now, keep_token=keep_token)
    note(session, what="password.changed", now=now, actor_id=person_id, subject_id=person_id)
    return PasswordChanged()


def _too_often(pause: timedelta) -> Refused:
    minutes = ceil(pause / timedelta(minutes=1))
    return Refused(Message("accounts.wait-one" if minutes == 1 else "accounts.wait", {"minutes": minutes}), pause)
