"""
The pages for what went wrong: what happened, in plain words, and what to do next.

Errors of the use cases become pages here, so that no view catches them: what somebody may not see is "not found".
"""

from __future__ import annotations

from datetime import timedelta
from math import ceil

from flask import Flask, Response, make_response, render_template
from flask_wtf.csrf import CSRFError
from msgspec import Struct
from msgspec.structs import replace
from werkzeug.exceptions import HTTPException, SecurityError

from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.calc.message import Message
from trainer.paper import TypesettingError
from trainer.records.revision import DatabaseVersionError
from trainer.text.words import say
from trainer.web.language import Later, language
from trainer.web.logs import log_error, request_id
from trainer.web.metrics import count_throttled
from trainer.web.papers.turns import PaperUnderWayError
from trainer.web.sessions import cookie_would_be_lost

__all__ = ["explain_errors", "too_many_tries"]


class Explanation(Struct, frozen=True):
    """A page's heading, what happened, and what to do next."""

    title: Later
    happened: Later | str
    next: Later


EXPLANATIONS = {
    400: Explanation(
        Later("This request could not be read"),
        Later("What your browser sent was not complete, or not meant for this site. Nothing was changed."),
        Later("Go back, load the page again, and send it once more."),
    ),
    403: Explanation(
        Later("This page is not yours to open"),
        Later("You are signed in, but this page is for people with another part in a class, a crew or the site."),
        Later("If you should have that part, ask whoever leads your class or crew."),
    ),
    404: Explanation(
        Later("There is no such page"),
        Later("The address may be mistyped, or what stood here has ended or is not shared with you."),
        Later("Check the address, or start again from the first page."),
    ),
    405: Explanation(
        Later("This page cannot be used that way"),
        Later("It takes a form that is sent to it, or only lets itself be read. Nothing was changed."),
        Later("Start again from the first page."),
    ),
    413: Explanation(
        Later("That was too much to send"),
        Later("What you sent is larger than this site reads. Nothing was changed."),
        Later("Go back and send less."),
    ),
    429: Explanation(
        Later("Too many tries"),
        Later("Somebody tried too often in a short time, from here or under this name. Nothing is lost."),
        Later("Wait a few minutes, then try again."),
    ),
    500: Explanation(
        Later("Something went wrong on our side"),
        Later("The site could not finish this. An answer that you were told of is kept; anything else may not be."),
        Later("Go back and load the page again. If it happens again, tell whoever looks after the site."),
    ),
}
BROUGHT_UP_TO_DATE = Explanation(
    Later("The site is being brought up to date"),
    Later("Its records are being changed to a new version of the program. Nothing is lost, and nothing was changed."),
    Later("Try again in a few minutes. What you typed is kept when you go back and send it again."),
)
NOT_SET = Explanation(
    Later("This paper could not be made"),
    Later("The site could not set it as PDF in the time that it takes for one. Nothing was changed."),
    Later(
        "Try again in a moment. If it happens again, tell whoever looks after the site; the pages can be printed too."
    ),
)
ONE_AT_A_TIME = Explanation(
    Later("One paper at a time"),
    Later("Another paper is being made for you just now."),
    Later("Wait until you have it, then ask for this one again."),
)
STALE_FORM = Explanation(
    Later("This form is no longer good"),
    Later("You signed in or out since the page was opened, or the browser keeps no cookies. Nothing was changed."),
    Later("Go back, load the page again, and send it once more."),
)
NEEDS_HTTPS = Explanation(
    Later("This site needs https"),
    Later("It sends what keeps you signed in over https only, and this page came over plain http."),
    Later(
        "Open the same address with https:// in front. Where there is none, whoever looks after the site can set "
        "TRAINER_SECURE_COOKIES=no."
    ),
)


def explain_errors(app: Flask) -> None:
    """Answer each error with a page of the site."""
    app.register_error_handler(HTTPException, _http_error)
    app.register_error_handler(SecurityError, _other_host)
    app.register_error_handler(NotFoundError, _not_found)
    app.register_error_handler(NotAllowedError, _not_allowed)
    app.register_error_handler(TypesettingError, _not_set)
    app.register_error_handler(PaperUnderWayError, _other_paper)
    app.register_error_handler(DatabaseVersionError, _other_tables)


def too_many_tries(reason: Message, wait: timedelta) -> Response:
    """The page for somebody who has to wait before the next try, with the use case's own words."""
    count_throttled()
    explanation = replace(EXPLANATIONS[429], happened=say(reason, language()))
    response = _page(429, explanation)
    response.headers["Retry-After"] = str(ceil(wait.total_seconds()))
    return response


def _http_error(error: HTTPException) -> Response:
    """A page for what the framework or a view refused; redirects pass."""
    if error.code is None or error.code < 400:
        return make_response(error.get_response())
    response = _page(error.code, _explanation(error))
    for name, value in error.get_headers():
        if name in {"Allow", "Retry-After"}:
            response.headers[name] = value
    return response


def _not_found(error: NotFoundError) -> Response:
    del error
    return _page(404)


def _not_allowed(error: NotAllowedError) -> Response:
    return _page(403, replace(EXPLANATIONS[403], happened=say(error.reason, language())))


def _not_set(error: TypesettingError) -> Response:
    log_error((type(error), error, error.__traceback__))
    return _page(503, NOT_SET)


def _other_paper(error: PaperUnderWayError) -> Response:
    del error
    response = _page(429, ONE_AT_A_TIME)
    response.headers["Retry-After"] = "5"
    return response


def _other_tables(error: DatabaseVersionError) -> Response:
    log_error((type(error), error, error.__traceback__))
    response = _page(503, BROUGHT_UP_TO_DATE)
    response.headers["Retry-After"] = "60"
    return response


def _explanation(error: HTTPException) -> Explanation | None:
    if isinstance(error, CSRFError):
        return NEEDS_HTTPS if cookie_would_be_lost() else STALE_FORM
    return None


def _other_host(error: SecurityError) -> Response:
    """A page without links: under a name that isn't the site's there is no address to link to."""
    del error
    return make_response(render_template("other_host.html"), 400)


def _page(status: int, explanation: Explanation | None = None) -> Response:
    shown = explanation or EXPLANATIONS.get(status) or EXPLANATIONS[400 if status < 500 else 500]
    page = render_template("error.html", explanation=shown, request_id=request_id())
    return make_response(page, status)
