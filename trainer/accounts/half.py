"""
Half sign-ins: a browser whose password was right and whose code is still due.

It has a token and a table of its own: what looks for a session never finds it, so it opens nothing but the page that
asks for the code. Ten minutes, then it begins again with the password.
"""

from __future__ import annotations

import secrets
from datetime import datetime, timedelta

from msgspec import Struct
from sqlalchemy import delete, select
from sqlalchemy.orm import Session

from trainer.accounts.sessions import token_hash
from trainer.records.models import HalfSignIn

__all__ = ["HALF_LIFE", "CodeDue", "end_half", "open_half", "person_of_half"]

HALF_LIFE = timedelta(minutes=10)


class CodeDue(Struct, frozen=True):
    """
    The password was right, and a code is due.

    Args:
        token: For a cookie of its own; stored nowhere.
        expires_at: When it begins again with the password.
    """

    token: str
    expires_at: datetime


def open_half(session: Session, person_id: int, now: datetime) -> CodeDue:
    """Let a browser try a code, and clear away those that are over."""
    session.execute(delete(HalfSignIn).where(HalfSignIn.expires_at <= now))
    due = CodeDue(secrets.token_urlsafe(32), now + HALF_LIFE)
    row = HalfSignIn(person_id=person_id, token_hash=token_hash(due.token), created_at=now, expires_at=due.expires_at)
    session.add(row)
    session.flush()
    return due


def person_of_half(session: Session, token: str, now: datetime) -> int | None:
    """Whose code is due; None when the half sign-in is unknown or over."""
    query = select(HalfSignIn.person_id).where(HalfSignIn.token_hash == token_hash(token), HalfSignIn.expires_at > now)
    return session.scalar(query)


def end_half(session: Session, token: str) -> None:
    """It has become a whole one."""
    session.execute(delete(HalfSignIn).where(HalfSignIn.token_hash == token_hash(token)))
