"""
Log lines: one JSON object a line on standard error, with identifiers and no other data about people.

A request's line names the route's pattern, not its address: an address may hold a join code. An error's line names its
type and where it happened, not its message, which may hold what somebody typed; in development it holds both.
"""

from __future__ import annotations

import json
import logging
import re
import secrets
import sys
import time
import traceback
from datetime import UTC, datetime
from types import TracebackType
from typing import Any

from flask import Flask, Response, current_app, g, request

from trainer.config import Settings
from trainer.web.metrics import count_error

__all__ = ["JsonLines", "log_error", "log_notice", "request_id", "route", "write_log_lines"]

#: What is taken for an identifier when the proxy in front sends one: nothing that could hold a sentence or a name.
WELL_FORMED = re.compile(r"(?=.*\d)[0-9A-Za-z-]{12,64}")

log = logging.getLogger("trainer.web")


class JsonLines(logging.Formatter):
    """
    Writes a record as one JSON object.

    Args:
        full_errors: Whether an error's message and source lines are written too.
    """

    def __init__(self, *, full_errors: bool = False) -> None:
        super().__init__()
        self.full_errors = full_errors

    def format(self, record: logging.LogRecord) -> str:
        """One line."""
        line = {
            "time": datetime.fromtimestamp(record.created, UTC).isoformat(timespec="milliseconds"),
            "level": record.levelname.lower(),
            "logger": record.name,
            "event": record.getMessage(),
            **getattr(record, "fields", {}),
        }
        if record.exc_info and record.exc_info[0]:
            line |= self._error(record.exc_info[0], record.exc_info[1], record.exc_info[2])
        return json.dumps(line, ensure_ascii=False, default=str)

    def _error(
        self, kind: type[BaseException], error: BaseException | None, trace: TracebackType | None
    ) -> dict[str, object]:
        places = [f"{frame.filename}:{frame.lineno} {frame.name}" for frame in traceback.extract_tb(trace)]
        found: dict[str, object] = {"error": f"{kind.__module__}.{kind.__qualname__}", "places": places}
        if self.full_errors:
            found["trace"] = "".join(traceback.format_exception(kind, error, trace))
        return found


def write_log_lines(app: Flask, settings: Settings) -> None:
    """Write a line for each request and for each error that nobody caught."""
    handler = logging.StreamHandler(sys.stderr)
    handler.setFormatter(JsonLines(full_errors=settings.development))
    logger = logging.getLogger("trainer")
    logger.handlers = [handler]
    logger.setLevel(settings.log_level.upper())
    app.extensions["trainer.believes_request_ids"] = settings.proxies > 0
    app.before_request(_start)
    app.after_request(_finish)


def request_id() -> str:
    """
    Identifier of this request: in its log lines, in the answer's header, and on the page of an error.

    The one that a trusted proxy gave it, so that its log and ours tell of the same request; else one of our own.
    """
    if "request_id" not in g:
        given = (
            request.headers.get("X-Request-Id", "") if current_app.extensions["trainer.believes_request_ids"] else ""
        )
        g.request_id = given if WELL_FORMED.fullmatch(given) else secrets.token_hex(6)
    return str(g.request_id)


def log_error(exc_info: Any) -> None:
    """Write the line of an error that nobody caught."""
    count_error(exc_info[1])
    log.error("error", exc_info=exc_info, extra={"fields": {"request": request_id(), "route": route()}})


def log_notice(event: str, detail: str) -> None:
    """Write a line for what an operator should know and nobody here can mend; the detail names no person."""
    log.warning(event, extra={"fields": {"request": request_id(), "route": route(), "detail": detail}})


def route() -> str | None:
    """The pattern of the address that was asked for; None for one that there is not."""
    return request.url_rule.rule if request.url_rule else None


def _start() -> None:
    g.started = time.perf_counter()


def _finish(response: Response) -> Response:
    response.headers["X-Request-Id"] = request_id()
    actor = g.get("actor")
    fields = {
        "request": request_id(),
        "method": request.method,
        "route": route(),
        "status": response.status_code,
        "ms": round((time.perf_counter() - g.get("started", time.perf_counter())) * 1000, 1),
        "person": actor.public_id if actor else None,
    }
    log.info("request", extra={"fields": fields})
    return response
