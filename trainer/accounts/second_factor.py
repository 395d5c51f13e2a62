"""
The second factor: beside the password a code of an app, or one on paper in its place.

    begin -> the secret is shown -> confirm by a first code -> in force, ten codes on paper

In force it is asked for at each sign-in, see `trainer.accounts.sign_in`; `trainer.accounts.spending` looks at the codes.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta

from msgspec import Struct
from sqlalchemy import delete, func, select
from sqlalchemy.orm import Session

from trainer.accounts import codes, throttle
from trainer.accounts.audit import note
from trainer.accounts.passwords import Passwords
from trainer.accounts.refused import Refused, too_often
from trainer.accounts.sessions import end_sessions
from trainer.accounts.spending import factor_row, spend_code
from trainer.calc.message import Message
from trainer.records.locks import lock_person
from trainer.records.models import RecoveryCode, SecondFactor

__all__ = [
    "Begun",
    "Confirmed",
    "FactorLine",
    "begin",
    "begun",
    "clear",
    "confirm",
    "factor_of",
    "forget",
    "is_in_force",
    "renew_paper_codes",
    "turn_off",
]

BEGUN_LIFE = timedelta(hours=1)
"""How long a secret that was shown waits for its first code."""


class FactorLine(Struct, frozen=True):
    """
    A second factor in force.

    Args:
        since: When it was set up.
        codes_left: Codes on paper that were not used yet.
        key_changed: The site's key is another one than at the set-up: only codes on paper are right any more.
    """

    since: datetime
    codes_left: int
    key_changed: bool


class Begun(Struct, frozen=True):
    """A set-up that waits for its first code: the secret as the app takes it."""

    secret: str


class Confirmed(Struct, frozen=True):
    """It was done."""


def is_in_force(session: Session, person_id: int) -> bool:
    """Whether a person's sign-in asks for a code."""
    query = select(SecondFactor.id).where(SecondFactor.person_id == person_id, SecondFactor.confirmed_at.is_not(None))
    return session.scalar(query) is not None


def factor_of(session: Session, person_id: int, *, key: str) -> FactorLine | None:
    """The second factor of a person; None when there is none in force."""
    left = (
        select(func.count(RecoveryCode.id))
        .where(RecoveryCode.person_id == person_id, RecoveryCode.used_at.is_(None))
        .scalar_subquery()
    )
    query = select(SecondFactor, left).where(SecondFactor.person_id == person_id)
    row, codes_left = session.execute(query).one_or_none() or (None, 0)
    if row is None or row.confirmed_at is None:
        return None
    return FactorLine(row.confirmed_at, codes_left, row.key_mark != codes.key_mark(key, row.salt))


def begin(session: Session, person_id: int, now: datetime, *, key: str) -> None:
    """
    Draw a secret for a person who has no second factor; one that was begun before is no longer good.

    Args:
        session: A write session.
        person_id: Who sets it up.
        now: This moment.
        key: The site's secret key.
    """
    lock_person(session, person_id)
    if is_in_force(session, person_id):
        return
    forget(session, person_id)
    salt = codes.new_salt()
    session.add(SecondFactor(person_id=person_id, salt=salt, key_mark=codes.key_mark(key, salt), begun_at=now))
    session.flush()


def begun(session: Session, person_id: int, now: datetime, *, key: str) -> Begun | None:
    """The set-up of a person that waits for its first code; None when there is none, or it has waited too long."""
    row = factor_row(session, person_id)
    return None if row is None or not _waits(row, now) else Begun(codes.app_secret(key, row.salt))


def confirm(
    session: Session,
    person_id: int,
    typed: str,
    now: datetime,
    *,
    key: str,
    paper: Sequence[codes.PaperCode],
    keep_token: str | None,
) -> Confirmed | Refused | None:
    """
    Put the second factor in force by a first code of the app; the person's other sessions end.

    Args:
        session: A write session.
        person_id: Who sets it up.
        typed: The code, as typed.
        now: This moment.
        key: The site's secret key.
        paper: New codes on paper, made before: hashing ten of them is not done while the database waits.
        keep_token: Token of the session that stays open.

    Returns:
        None when no set-up waits for a code.
    """
    lock_person(session, person_id)
    row = factor_row(session, person_id)
    if row is None or not _waits(row, now):
        return None
    if pause := throttle.wait(session, throttle.CODE, str(person_id), now):
        return too_often(pause)
    step = codes.step_of(codes.app_secret(key, row.salt), typed, now, after=None)
    if step is None:
        throttle.failed(session, throttle.CODE, str(person_id), now)
        return Refused(Message("accounts.first-code-wrong"))
    row.confirmed_at, row.last_step = now, step
    _keep_paper(session, person_id, paper, now)
    end_sessions(session, person_id, now, keep_token=keep_token)
    note(session, what="second-factor.set-up", now=now, actor_id=person_id, subject_id=person_id)
    return Confirmed()


def renew_paper_codes(
    session: Session,
    person_id: int,
    typed: str,
    now: datetime,
    *,
    key: str,
    passwords: Passwords,
    paper: Sequence[codes.PaperCode],
) -> Confirmed | Refused:
    """Replace all codes on paper, for a code; those before open nothing any more."""
    if refused := spend_code(session, person_id, typed, now, key=key, passwords=passwords):
        return refused
    _keep_paper(session, person_id, paper, now)
    note(session, what="second-factor.new-codes", now=now, actor_id=person_id, subject_id=person_id)
    return Confirmed()


def turn_off(
    session: Session,
    person_id: int,
    typed: str,
    now: datetime,
    *,
    key: str,
    passwords: Passwords,
    keep_token: str | None,
) -> Confirmed | Refused:
    """
    Ask for no code any more, for a code; the person's other sessions end.

    The caller has looked at the password.
    """
    if refused := spend_code(session, person_id, typed, now, key=key, passwords=passwords):
        return refused
    forget(session, person_id)
    end_sessions(session, person_id, now, keep_token=keep_token)
    note(session, what="second-factor.off", now=now, actor_id=person_id, subject_id=person_id)
    return Confirmed()


def clear(session: Session, person_id: int, now: datetime, *, by_id: int | None = None) -> bool:
    """
    Take the second factor from a person who has lost phone and paper, and end all sessions.

    The caller has made sure that `by_id` may do so. (None: the command line.)

    Returns:
        Whether there was one in force.
    """
    lock_person(session, person_id)
    was = is_in_force(session, person_id)
    forget(session, person_id)
    if was:
        end_sessions(session, person_id, now)
        note(session, what="second-factor.cleared", now=now, actor_id=by_id, subject_id=person_id)
    return was


def forget(session: Session, person_id: int) -> None:
    """Remove a person's second factor with its codes on paper."""
    for table in (SecondFactor, RecoveryCode):
        session.execute(delete(table).where(table.person_id == person_id))


def _waits(row: SecondFactor, now: datetime) -> bool:
    return row.confirmed_at is None and now < row.begun_at + BEGUN_LIFE


def _keep_paper(session: Session, person_id: int, paper: Sequence[codes.PaperCode], now: datetime) -> None:
    session.execute(delete(RecoveryCode).where(RecoveryCode.person_id == person_id))
    session.add_all(
        RecoveryCode(person_id=person_id, tag=one.tag, code_hash=one.code_hash, made_at=now) for one in paper
    )
    session.flush()
