"""
One key for all hosts of a site: what one of them signed, another could not read otherwise.

The database keeps a digest of it, from which a key that nobody can guess cannot be found.
"""

from __future__ import annotations

import hmac
from datetime import datetime

from sqlalchemy import select, update
from sqlalchemy.orm import Session

from trainer.records.locks import add_if_missing
from trainer.records.models import SiteKey

__all__ = ["OtherKeyError", "agree_on_key", "is_other_key"]

PURPOSE = b"one key for all hosts of a site"


class OtherKeyError(RuntimeError):
    """The key of this host is not that of the site; the message says what to do."""

    def __init__(self) -> None:
        super().__init__(
            "This host signs with another key than the site. Give it the same TRAINER_SECRET_KEY as the other hosts. "
            "Where the key was changed on purpose, run: trainer init --new-key"
        )


def agree_on_key(session: Session, key: str, now: datetime, *, as_new: bool = False) -> None:
    """
    Make sure that a host signs with the key of the site; the first one to come settles which that is.

    Args:
        session: A write session.
        key: The key of this host.
        now: This moment.
        as_new: Whether this key is the site's from now on.

    Raises:
        OtherKeyError: When the site has another one.
    """
    digest = _digest(key)
    add_if_missing(session, SiteKey, id=1, digest=digest, since=now)
    if as_new:
        session.execute(update(SiteKey).where(SiteKey.digest != digest).values(digest=digest, since=now))
    elif is_other_key(session, key):
        raise OtherKeyError


def is_other_key(session: Session, key: str) -> bool:
    """Whether the site is known to sign with another key than this one."""
    kept = session.scalar(select(SiteKey.digest))
    return kept is not None and not hmac.compare_digest(kept, _digest(key))


def _digest(key: str) -> str:
    return hmac.digest(key.encode(), PURPOSE, "sha256").hex()
