"""
Slow down whoever guesses, in the database, so that two workers count as one.

Each failure pours 1 into some buckets, which leak; who finds a bucket full has to wait until there is room again.

    bucket    filled by failures                       holds   leaks
    pair      at one name from one address              6      1 in 5 minutes     one person guesses one password
    name      at one name from anywhere                30      1 in 2 minutes     many machines guess one password
    address   from one address                        100      1 in 36 seconds    one machine tries many names

A class. Thirty people behind one address mistype twice each: 60, below 100; and a sign-in that works takes its own
person's failures back out. Who has signed in from an address within 30 days is not held up there by other people's
failures: for such a known pair only its own bucket counts, so neither a sprayer in the next room nor a crowd of machines
elsewhere locks a person out of the usual place. What is left: someone in the same room can make one person wait five
minutes by typing that person's name, in plain sight.

One IPv6 customer has more addresses than can be counted, so the first 64 bits are the address.
"""

from __future__ import annotations

import hashlib
import ipaddress
from collections.abc import Mapping
from datetime import datetime, timedelta

from msgspec import Struct
from sqlalchemy import delete, select
from sqlalchemy.orm import Session

from trainer.records.locks import add_if_missing, locked
from trainer.records.models import Throttle

__all__ = ["CODE", "JOIN", "Bucket", "SignInGuard", "failed", "network", "wait"]


class Bucket(Struct, frozen=True):
    """
    A kind of bucket.

    Args:
        kind: Its name in the table.
        holds: Failures that fit in at once.
        leak: Time in which one of them leaks away.
    """

    kind: str
    holds: int
    leak: timedelta


PAIR = Bucket("pair", 6, timedelta(minutes=5))
NAME = Bucket("name", 30, timedelta(minutes=2))
ADDRESS = Bucket("address", 100, timedelta(seconds=36))
KNOWN = Bucket("known", 1, timedelta(days=30))
"""Not a count of failures: filled by a sign-in that worked, and empty when it is long ago."""

JOIN = Bucket("join", 20, timedelta(minutes=1))
"""Wrong codes to join a group, by one person or, before there is one, by one address."""

OLD_PASSWORD = Bucket("old-password", 6, timedelta(minutes=5))
"""Wrong old passwords of someone who sits at a signed-in browser and wants to set a new one."""

CODE = Bucket("code", 5, timedelta(minutes=15))
"""
Wrong codes of a second factor, by one person from anywhere. Three codes in a million are right at any moment: who knows
the password and tries all day long, a hundred times, is let in once in some nine years.
"""

PRUNED_AT_ONCE = 200


def wait(session: Session, bucket: Bucket, subject: str, now: datetime) -> timedelta:
    """
    How long a subject has to wait before it may try; zero when it may now.

    Keeps the bucket's row locked until the transaction ends, so that tries at the same moment are counted one by one.
    """
    return _wait(bucket, _level(bucket, _row(session, bucket, subject, now), now))


def failed(session: Session, bucket: Bucket, subject: str, now: datetime) -> None:
    """Note a failure, and remove what has leaked empty."""
    row = _row(session, bucket, subject, now)
    _fill(bucket, row, _level(bucket, row, now) + 1, now)
    _prune(session, now)


class SignInGuard:
    """
    The buckets of one try to sign in, locked until the transaction ends.

    Args:
        session: A write session.
        name: The folded sign-in name as typed, whether it exists or not.
        address: Where the request comes from.
        now: This moment.
    """

    def __init__(self, session: Session, name: str, address: str, now: datetime) -> None:
        self._session = session
        self._now = now
        place = network(address)
        self._pair = f"{name}\n{place}"
        subjects = {PAIR: self._pair, NAME: name, ADDRESS: place}
        self._rows: Mapping[Bucket, Throttle] = {
            bucket: _row(session, bucket, subject, now) for bucket, subject in subjects.items()
        }

    def wait(self) -> timedelta:
        """How long to wait before the password is even looked at; zero when it is now."""
        counted = (PAIR,) if self._is_known() else (PAIR, NAME, ADDRESS)
        return max(_wait(bucket, self._level(bucket)) for bucket in counted)

    def failed(self) -> None:
        """Note that the password was wrong, or that there is no such name."""
        for bucket, row in self._rows.items():
            _fill(bucket, row, self._level(bucket) + 1, self._now)
        _prune(self._session, self._now)

    def succeeded(self) -> None:
        """Take this person's failures at this address back, and remember the pair."""
        own = self._level(PAIR)
        for bucket, row in self._rows.items():
            _fill(bucket, row, max(0.0, self._level(bucket) - own), self._now)
        _fill(KNOWN, _row(self._session, KNOWN, self._pair, self._now), 1.0, self._now)
        _prune(self._session, self._now)

    def _level(self, bucket: Bucket) -> float:
        return _level(bucket, self._rows[bucket], self._now)

    def _is_known(self) -> bool:
        query = select(Throttle.id).where(
            Throttle.kind == KNOWN.kind, Throttle.subject == _hashed(self._pair), Throttle.expires_at > self._now
        )
        return self._session.scalar(query) is not None


def network(address: str) -> str:
    """
    The address that counts: all of IPv4, the first 64 bits of IPv6.

    >>> network("2001:db8::17"), network("::ffff:192.0.2.7"), network("by hand")
    ('2001:db8::/64', '192.0.2.7', 'by hand')
    """
    try:
        read = ipaddress.ip_address(address)
    except ValueError:
        return address[:80]
    if isinstance(read, ipaddress.IPv4Address):
        return str(read)
    mapped = read.ipv4_mapped
    return str(mapped or ipaddress.ip_network((int(read), 64), strict=False))


def _row(session: Session, bucket: Bucket, subject: str, now: datetime) -> Throttle:
    """The row of a bucket, made when missing, locked."""
    key = {"kind": bucket.kind, "subject": _hashed(subject)}
    add_if_missing(session, Throttle, **key, level=0.0, updated_at=now, expires_at=now)
    row = session.execute(locked(select(Throttle).filter_by(**key))).scalar_one()
    # A clock that went ahead and was set back: the bucket leaks from now on, and not only once that time has come.
    row.updated_at = min(row.updated_at, now)
    return row


def _hashed(subject: str) -> str:
    return hashlib.sha256(subject.encode("utf-8", "surrogatepass")).hexdigest()


def _level(bucket: Bucket, row: Throttle, now: datetime) -> float:
    gone = max(timedelta(0), now - row.updated_at) / bucket.leak
    return max(0.0, row.level - gone)


def _wait(bucket: Bucket, level: float) -> timedelta:
    return max(0.0, level + 1 - bucket.holds) * bucket.leak


def _fill(bucket: Bucket, row: Throttle, level: float, now: datetime) -> None:
    row.level = min(level, bucket.holds)
    row.updated_at = now
    row.expires_at = now + row.level * bucket.leak


def _prune(session: Session, now: datetime) -> None:
    """Remove empty buckets, but for those that another transaction holds at this moment."""
    session.flush()
    empty = select(Throttle.id).where(Throttle.expires_at <= now).order_by(Throttle.id).limit(PRUNED_AT_ONCE)
    removal = delete(Throttle).where(Throttle.id.in_(empty.with_for_update(skip_locked=True)))
    session.execute(removal, execution_options={"synchronize_session": False})
