"""Column types and identifiers shared by the tables."""

from __future__ import annotations

import re
import secrets
from datetime import UTC, datetime

from sqlalchemy import DateTime
from sqlalchemy.engine import Dialect
from sqlalchemy.types import TypeDecorator

__all__ = ["UtcDateTime", "is_public_id", "new_public_id"]

PUBLIC_ID = re.compile(r"[A-Za-z0-9_-]{22}")


def new_public_id() -> str:
    """A random identifier for addresses: 16 bytes, 22 characters, safe in a URL."""
    return secrets.token_urlsafe(16)


def is_public_id(text: str) -> bool:
    """Whether a text from outside can be a public identifier. What cannot is not worth asking the database for."""
    return PUBLIC_ID.fullmatch(text) is not None


class UtcDateTime(TypeDecorator[datetime]):
    """
    A moment in UTC.

    Refuses a datetime without time zone, so that no local time slips in, and gives back an aware one on SQLite too,
    which stores no zone.
    """

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """Turn an aware datetime into UTC; ValueError for a naive one."""
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError(f"a time without a time zone: {value!r}; pass an aware datetime, for example in UTC")
        moment = value.astimezone(UTC)
        return moment if dialect.name != "sqlite" else moment.replace(tzinfo=None)

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """Give back an aware datetime in UTC."""
        del dialect
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)
