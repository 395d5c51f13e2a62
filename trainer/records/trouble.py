"""
What keeps a database from its work though the program is right: a full disk, a folder that only lets itself be read, a
server that is away, a lock that somebody else holds. All else that a database refuses is a fault of the program.
"""

from __future__ import annotations

import errno
import sqlite3
from enum import StrEnum

from sqlalchemy.exc import DBAPIError

__all__ = ["Trouble", "trouble_of"]


class Trouble(StrEnum):
    """What is the matter; each passes without a change to the program."""

    FULL = "full"
    READ_ONLY = "read-only"
    BUSY = "busy"
    AWAY = "away"
    DAMAGED = "damaged"


#: By the low byte of SQLite's code; the others say more exactly where it happened.
OF_SQLITE = {
    sqlite3.SQLITE_FULL: Trouble.FULL,
    sqlite3.SQLITE_READONLY: Trouble.READ_ONLY,
    sqlite3.SQLITE_PERM: Trouble.READ_ONLY,
    sqlite3.SQLITE_BUSY: Trouble.BUSY,
    sqlite3.SQLITE_LOCKED: Trouble.BUSY,
    sqlite3.SQLITE_PROTOCOL: Trouble.BUSY,
    sqlite3.SQLITE_IOERR: Trouble.AWAY,
    sqlite3.SQLITE_CANTOPEN: Trouble.AWAY,
    sqlite3.SQLITE_CORRUPT: Trouble.DAMAGED,
    sqlite3.SQLITE_NOTADB: Trouble.DAMAGED,
}
#: By PostgreSQL's code of an error, the longest start that fits first (appendix A of its manual).
OF_POSTGRESQL = {
    "53100": Trouble.FULL,
    "25006": Trouble.READ_ONLY,
    "55P03": Trouble.BUSY,
    "40P01": Trouble.BUSY,
    "57014": Trouble.BUSY,
    "XX001": Trouble.DAMAGED,
    "XX002": Trouble.DAMAGED,
    "53": Trouble.BUSY,
    "57P": Trouble.AWAY,
    "58": Trouble.AWAY,
    "08": Trouble.AWAY,
}
OF_FILES = {
    errno.ENOSPC: Trouble.FULL,
    errno.EDQUOT: Trouble.FULL,
    errno.EFBIG: Trouble.FULL,
    errno.EROFS: Trouble.READ_ONLY,
}


def trouble_of(error: DBAPIError | OSError) -> Trouble | None:
    """
    What is the matter with database or disk; None when the error is the program's own.

    Args:
        error: As SQLAlchemy or the operating system raised it.
    """
    if isinstance(error, OSError):
        return OF_FILES.get(error.errno or 0)
    cause = error.orig
    if isinstance(cause, sqlite3.Error):
        # Errors that the driver raises itself, as for a connection that is closed, carry no code.
        return OF_SQLITE.get(getattr(cause, "sqlite_errorcode", 0) & 0xFF)
    code = getattr(cause, "sqlstate", None)
    if code is None:
        # Only the server gives codes: where there is none, there was no server to give it.
        return Trouble.AWAY if error.connection_invalidated or type(cause).__name__ == "OperationalError" else None
    return next((trouble for start, trouble in OF_POSTGRESQL.items() if code.startswith(start)), None)
