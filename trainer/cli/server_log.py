"""The server's own log lines, in the form of the program's, and like those without addresses, codes or typed text."""

from __future__ import annotations

import logging
from typing import Any

from gunicorn.glogging import Logger

from trainer.web.logs import JsonLines

__all__ = ["ServerLog"]

#: How lines begin that gunicorn ends with the address of a person, what was asked for or what was sent; and what is
#: written instead. The error's type and where it happened are written all the same.
SHORTENED = {
    "Invalid request": "a request could not be read",
    "Error handling request": "a request could not be answered",
    "Ignored": "a part of a request was left out",
}


class _Shortened(logging.Filter):
    """Takes what somebody sent out of a line."""

    def filter(self, record: logging.LogRecord) -> bool:
        said = str(record.msg)
        for begins, instead in SHORTENED.items():
            if said.startswith(begins):
                record.msg, record.args = instead, ()
        return True


class ServerLog(Logger):  # type: ignore[misc]  # gunicorn carries no types
    """gunicorn's log, one JSON object a line; there is none of requests, which the program writes itself."""

    def setup(self, cfg: Any) -> None:
        """As gunicorn's, then with our form."""
        super().setup(cfg)
        for handler in self.error_log.handlers:
            handler.setFormatter(JsonLines())
            handler.addFilter(_Shortened())
