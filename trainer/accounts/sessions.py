"""
Signed-in browsers.

The cookie holds a random token, the table its SHA-256: who reads the table cannot sign in with it. A session ends
when it was not used for a while, a longer while after sign-in (both are settings of the site: `SignInLife`), when it is
signed out or revoked, and when the password changes elsewhere. Reading a page does not write: `Actor.touch_due` tells
when it is time to call `touch`.
"""

from __future__ import annotations

import hashlib
import secrets
import unicodedata
from datetime import datetime, timedelta

from msgspec import Struct
from sqlalchemy import BindParameter, ColumnElement, and_, delete, or_, select, update
from sqlalchemy.orm import Session

from trainer.records.locks import locked
from trainer.records.models import HalfSignIn, SignInSession
from trainer.records.types import is_public_id

__all__ = [
    "USUAL_LIFE",
    "SessionLine",
    "SignInLife",
    "end_sessions",
    "forget_sessions",
    "is_live",
    "is_long_over",
    "list_sessions",
    "lives",
    "open_session",
    "renew",
    "revoke",
    "sign_out",
    "token_hash",
    "touch",
]

LONGEST_UNNOTED = timedelta(hours=1)
LONGEST_DEVICE = 120
LONGEST_TOKEN = 100


class SignInLife(Struct, frozen=True):
    """
    How long the sign-ins of a site last.

    Args:
        idle: One that is not used ends after this time.
        longest: One that is used ends this long after signing in.
        kept: How long the row of one that has ended is kept.
    """

    idle: timedelta = timedelta(days=14)
    longest: timedelta = timedelta(days=60)
    kept: timedelta = timedelta(days=7)

    @property
    def touch_after(self) -> timedelta:
        """How old `last_seen_at` may grow before it is written anew: little beside the time without use that ends a sign-in."""
        return min(LONGEST_UNNOTED, self.idle / 12)


USUAL_LIFE = SignInLife()


class SessionLine(Struct, frozen=True):
    """A live session as its person sees it; `public_id` is what `revoke` takes."""

    public_id: str
    created_at: datetime
    last_seen_at: datetime
    device: str
    is_this_one: bool


def open_session(
    session: Session, person_id: int, device: str, now: datetime, *, life: SignInLife = USUAL_LIFE
) -> tuple[str, datetime]:
    """
    Open a session for a person whose password was right, and clear away sessions long over.

    Returns:
        The token for the cookie, which is stored nowhere, and when it ends at the latest.
    """
    session.execute(delete(SignInSession).where(SignInSession.expires_at < now - life.kept))
    token = secrets.token_urlsafe(32)
    row = SignInSession(person_id=person_id, token_hash=token_hash(token), created_at=now, last_seen_at=now)
    row.expires_at = now + life.longest
    row.device = _plain(device)
    session.add(row)
    session.flush()
    return token, row.expires_at


def _plain(device: str) -> str:
    """A browser's own words about itself, without anything that a page or a terminal could trip over."""
    shown = "".join(letter for letter in device if unicodedata.category(letter)[0] != "C")
    return " ".join(shown.split())[:LONGEST_DEVICE]


def token_hash(token: str) -> str:
    """What is stored of a token."""
    return hashlib.sha256(token[:LONGEST_TOKEN].encode("utf-8", "surrogatepass")).hexdigest()


def is_live(now: datetime, life: SignInLife) -> ColumnElement[bool]:
    """The condition that a session can still be used."""
    return lives(now, now - life.idle)


def is_long_over(now: datetime, life: SignInLife) -> ColumnElement[bool]:
    """The condition that a session ended, by whichever of its ends, so long ago that its row can go."""
    gone = now - life.kept
    return or_(
        SignInSession.expires_at < gone, SignInSession.revoked_at < gone, SignInSession.last_seen_at < gone - life.idle
    )


def lives(
    now: datetime | BindParameter[datetime], used_after: datetime | BindParameter[datetime]
) -> ColumnElement[bool]:
    """The same with both of its moments, which a statement that is built once leaves open."""
    return and_(
        SignInSession.revoked_at.is_(None),
        SignInSession.expires_at > now,
        SignInSession.last_seen_at > used_after,
    )


def touch(session: Session, token: str, now: datetime, *, life: SignInLife = USUAL_LIFE) -> None:
    """Note that a live session is in use; one that is over stays over."""
    live = and_(SignInSession.token_hash == token_hash(token), is_live(now, life))
    session.execute(update(SignInSession).where(live).values(last_seen_at=now))


def sign_out(session: Session, token: str, now: datetime) -> None:
    """End the session of a token; an unknown token changes nothing."""
    _end(session, SignInSession.token_hash == token_hash(token), now)


def revoke(session: Session, person_id: int, public_id: str, now: datetime) -> None:
    """End one of a person's sessions; an unknown one, or another person's, changes nothing."""
    if is_public_id(public_id):
        _end(session, and_(SignInSession.person_id == person_id, SignInSession.public_id == public_id), now)


def renew(session: Session, token: str, now: datetime, *, life: SignInLife = USUAL_LIFE) -> tuple[str, datetime] | None:
    """
    Give a session whose person has shown anew who it is another token; the old one opens nothing from then on.

    Returns:
        The new token, and when the session ends at the latest; None when the session is over.
    """
    live = and_(SignInSession.token_hash == token_hash(token), is_live(now, life))
    row = session.scalars(locked(select(SignInSession).where(live))).one_or_none()
    if row is None:
        return None
    anew = secrets.token_urlsafe(32)
    row.token_hash = token_hash(anew)
    row.proved_at = now
    session.flush()
    return anew, row.expires_at


def end_sessions(session: Session, person_id: int, now: datetime, *, keep_token: str | None = None) -> None:
    """End all sessions of a person, or all but the one of `keep_token`, and every sign-in that waits for a code."""
    _forget_halves(session, person_id)
    others = SignInSession.person_id == person_id
    if keep_token is not None:
        others = and_(others, SignInSession.token_hash != token_hash(keep_token))
    _end(session, others, now)


def forget_sessions(session: Session, person_id: int) -> None:
    """Remove all sessions of a person with what they say about devices."""
    _forget_halves(session, person_id)
    session.execute(delete(SignInSession).where(SignInSession.person_id == person_id))


def list_sessions(
    session: Session, person_id: int, now: datetime, token: str | None = None, *, life: SignInLife = USUAL_LIFE
) -> list[SessionLine]:
    """The live sessions of a person, the latest used first."""
    query = (
        select(SignInSession)
        .where(SignInSession.person_id == person_id, is_live(now, life))
        .order_by(SignInSession.last_seen_at.desc(), SignInSession.id.desc())
    )
    this_one = None if token is None else token_hash(token)
    return [
        SessionLine(row.public_id, row.created_at, row.last_seen_at, row.device, row.token_hash == this_one)
        for row in session.scalars(query)
    ]


def _forget_halves(session: Session, person_id: int) -> None:
    session.execute(delete(HalfSignIn).where(HalfSignIn.person_id == person_id))


def _end(session: Session, which: ColumnElement[bool], now: datetime) -> None:
    session.execute(update(SignInSession).where(which, SignInSession.revoked_at.is_(None)).values(revoked_at=now))
