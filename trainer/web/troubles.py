"""
The pages for a database or a disk that cannot do its work just now: what is the matter, and what to do.

What was sent is given back with the page, to be sent again by one press: an answer keeps the key of its form, so that one
which was put on record after all counts once.
"""

from __future__ import annotations

import logging
from http import HTTPStatus

from flask import Flask, Response, make_response, render_template, request
from msgspec import Struct
from sqlalchemy.exc import DBAPIError
from werkzeug.exceptions import HTTPException

from trainer.records.trouble import Trouble, trouble_of
from trainer.web.language import Later
from trainer.web.logs import log_error, request_id

__all__ = ["TroubleWords", "explain_troubles", "passes_without"]

log = logging.getLogger("trainer.web")


class TroubleWords(Struct, frozen=True):
    """A page's heading, what is the matter, what to do, and after how long to try again [s]."""

    title: Later
    happened: Later
    next: Later
    wait: int


KEPT = Later("What you were told is on record stays on record.")
WORDS = {
    Trouble.FULL: TroubleWords(
        Later("The site has no room left"),
        Later("Its disk is full, so nothing new can be kept. Nothing was changed."),
        Later("Tell whoever looks after the site that its disk is full. Once there is room, try again from here."),
        300,
    ),
    Trouble.READ_ONLY: TroubleWords(
        Later("The site can only be read just now"),
        Later("It may not write to where its records are, so nothing new can be kept. Nothing was changed."),
        Later("Tell whoever looks after the site that its records are read-only. After that, try again from here."),
        300,
    ),
    Trouble.BUSY: TroubleWords(
        Later("The site is very busy"),
        Later("Others were being served for so long that your turn did not come. Nothing was changed."),
        Later("Wait a few seconds, then try again."),
        5,
    ),
    Trouble.AWAY: TroubleWords(
        Later("The site cannot reach its records"),
        Later("They may be starting again, which takes a minute at most."),
        Later("Wait a minute, then try again. If it stays so, tell whoever looks after the site."),
        30,
    ),
    Trouble.DAMAGED: TroubleWords(
        Later("The site's records are damaged"),
        Later("Part of them could not be read, so the site stopped here rather than guess."),
        Later("Tell whoever looks after the site at once. The last backup can be restored."),
        3600,
    ),
}
#: A form with one of these in a field's name is typed again: such a text belongs on no page.
NOT_GIVEN_BACK = ("password", "code", "secret")


def explain_troubles(app: Flask) -> None:
    """Answer what database and disk could not do with a page that says so; all else they refuse stays an error."""
    app.register_error_handler(DBAPIError, _answer)
    app.register_error_handler(OSError, _answer)


def passes_without(error: DBAPIError) -> bool:
    """Whether bookkeeping that failed can be left out this once; told in the log."""
    trouble = trouble_of(error)
    if trouble is not None:
        log.warning("not kept", extra={"fields": {"request": request_id(), "trouble": trouble.value}})
    return trouble is not None


def _answer(error: DBAPIError | OSError) -> Response:
    trouble = trouble_of(error)
    if trouble is None:
        raise error
    log_error((type(error), error, error.__traceback__))
    words = WORDS[trouble]
    again = _sent_again()
    answered = ", ".join(text for name, text in again or () if name == "answer" and text)
    page = render_template(
        "trouble.html", words=words, kept=KEPT, again=again, answered=answered, request_id=request_id()
    )
    response = make_response(page, HTTPStatus.SERVICE_UNAVAILABLE)
    response.headers["Retry-After"] = str(words.wait)
    return response


def _sent_again() -> list[tuple[str, str]] | None:
    """The fields of a form that can be sent again as it was; None for a page, a file, and what is secret."""
    if request.method != "POST":
        return None
    try:
        if request.files or any(part in name for name in request.form for part in NOT_GIVEN_BACK):
            return None
        return list(request.form.items(multi=True))
    except HTTPException:  # What is too large to read is not given back.
        return None
