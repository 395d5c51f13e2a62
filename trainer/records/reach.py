"""
Whether a pooled connection to PostgreSQL still reaches its server, looked at before it is used.

To ask the server costs a trip each time, which is a good part of a short transaction. A server that ends a connection, be
it that it stops, says so on the line; between two transactions it says nothing else. So it is enough to look whether
something lies there. The server itself is asked where something does, and where the connection was idle for long: a line
that was cut in between says nothing.
"""

from __future__ import annotations

import select
import time
from typing import Any

from sqlalchemy import Engine, event
from sqlalchemy.exc import InvalidatePoolError

__all__ = ["ASKED_AFTER", "look_before_use"]

ASKED_AFTER = 10.0
"""Idle time from which the server is asked [s]."""

_USED = "trainer_used"


def look_before_use(engine: Engine) -> None:
    """Let the engine's pool give out only connections that reach the server; the others are opened anew."""

    def note(connection: Any, record: Any) -> None:
        # Nothing to note of one that was given up.
        if connection is not None:
            record.info[_USED] = time.monotonic()

    def look(connection: Any, record: Any, proxy: Any) -> None:
        del proxy
        lately = time.monotonic() - record.info.get(_USED, float("-inf")) < ASKED_AFTER
        if lately and not _something_came(connection):
            return
        try:
            engine.dialect.do_ping(connection)
        except engine.dialect.loaded_dbapi.Error as error:
            # All of the pool: what ended one has ended the others.
            raise InvalidatePoolError from error

    event.listen(engine, "connect", note)
    event.listen(engine, "checkin", note)
    event.listen(engine, "checkout", look)


def _something_came(connection: Any) -> bool:
    """Whether something lies on the line that nobody has read, or the line is closed."""
    if connection.closed:
        return True
    line = select.poll()
    line.register(connection.fileno(), select.POLLIN)
    return bool(line.poll(0))
