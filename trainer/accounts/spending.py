"""
Codes of a second factor as they come in: of the app, or one on paper in its place. A code counts once.

Wrong ones fill a bucket of their own, and a full one is noted for the person to read: whoever gets so far knows the
password.
"""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import select, update
from sqlalchemy.orm import Session

from trainer.accounts import codes, throttle
from trainer.accounts.audit import note
from trainer.accounts.passwords import Passwords
from trainer.accounts.refused import Refused, too_often
from trainer.calc.message import Message
from trainer.records.locks import lock_person
from trainer.records.models import RecoveryCode, SecondFactor

__all__ = ["factor_row", "spend_code"]


def factor_row(session: Session, person_id: int) -> SecondFactor | None:
    """A person's second factor as it stands in the tables now, in force or begun; None when there is none."""
    query = select(SecondFactor).where(SecondFactor.person_id == person_id)
    return session.scalar(query.execution_options(populate_existing=True))


def spend_code(
    session: Session, person_id: int, typed: str, now: datetime, *, key: str, passwords: Passwords
) -> Refused | None:
    """
    Take a code of the app, or one on paper, which is good no more after that. The person is locked: a code that is sent
    twice at the same moment counts once.

    Returns:
        None when the code was right.
    """
    lock_person(session, person_id)
    subject = str(person_id)
    if pause := throttle.wait(session, throttle.CODE, subject, now):
        return too_often(pause)
    row = factor_row(session, person_id)
    if row is not None and row.confirmed_at is not None:
        step = codes.step_of(codes.app_secret(key, row.salt), typed, now, after=row.last_step)
        if step is not None:
            row.last_step = step
            return None
        if _spend_paper(session, person_id, typed, now, passwords):
            return None
    throttle.failed(session, throttle.CODE, subject, now)
    if throttle.wait(session, throttle.CODE, subject, now):
        note(session, what="second-factor.guessed", now=now, subject_id=person_id)
    changed = row is not None and row.key_mark != codes.key_mark(key, row.salt)
    return Refused(Message("accounts.code-of-old-key" if changed else "accounts.code-wrong"))


def _spend_paper(session: Session, person_id: int, typed: str, now: datetime, passwords: Passwords) -> bool:
    code = codes.written(typed)
    if code is None:
        return False
    unused = (RecoveryCode.person_id == person_id, RecoveryCode.used_at.is_(None))
    row = session.scalar(select(RecoveryCode).where(*unused, RecoveryCode.tag == code[: codes.GROUP]))
    if not codes.is_paper_code(None if row is None else row.code_hash, code, passwords) or row is None:
        return False
    session.execute(update(RecoveryCode).where(RecoveryCode.id == row.id).values(used_at=now))
    note(session, what="second-factor.paper", now=now, actor_id=person_id, subject_id=person_id)
    return True
