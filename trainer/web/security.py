"""Security headers, cookies and limits, the same for every page."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from typing import Any, TypeVar

from flask import Flask, Response, current_app, make_response, request
from flask_wtf.csrf import CSRFProtect
from werkzeug.middleware.proxy_fix import ProxyFix

from trainer.config import Settings

__all__ = ["cookie_name", "reads_up_to", "secure", "shown_once"]

View = TypeVar("View", bound=Callable[..., Any])

#: No script and no style but the site's own files: markup that slips in somewhere can run nothing.
CONTENT_SECURITY_POLICY = (
    "default-src 'self'; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"
)
NOT_NEEDED = ("accelerometer", "camera", "geolocation", "gyroscope", "magnetometer", "microphone", "payment", "usb")
HEADERS = {
    "Content-Security-Policy": CONTENT_SECURITY_POLICY,
    "X-Content-Type-Options": "nosniff",
    # The form tokens' check wants to see that a form came from here; other sites learn nothing.
    "Referrer-Policy": "same-origin",
    "Permissions-Policy": ", ".join(f"{feature}=()" for feature in NOT_NEEDED),
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    # Kept by the browser for the way back, with what was typed, but shared with nobody and asked for anew.
    "Cache-Control": "private, no-cache",
}
ONE_YEAR = int(timedelta(days=365).total_seconds())
KIBIBYTE = 1024
CREATED = 201


def secure(app: Flask, settings: Settings) -> None:
    """Set cookies, limits, form tokens and headers."""
    app.config.update(
        SESSION_COOKIE_NAME=cookie_name(settings, "form"),
        SESSION_COOKIE_SECURE=settings.secure_cookies,
        SESSION_COOKIE_HTTPONLY=True,
        SESSION_COOKIE_SAMESITE="Lax",
        SESSION_COOKIE_PATH="/",
        TRUSTED_HOSTS=list(settings.hosts),
        MAX_CONTENT_LENGTH=settings.largest_request * KIBIBYTE,
        MAX_FORM_MEMORY_SIZE=settings.largest_request * KIBIBYTE,
        MAX_FORM_PARTS=500,
        # A token lives as long as its cookie: a page that lay open over lunch can still be sent.
        WTF_CSRF_TIME_LIMIT=None,
    )
    if settings.proxies:
        count = settings.proxies
        # Flask's own way to put something around an application, whose attribute the types call a method.
        app.wsgi_app = ProxyFix(app.wsgi_app, x_for=count, x_proto=count, x_host=count)  # type: ignore[method-assign]
    # Before the form tokens are looked at, which reads the form.
    app.url_value_preprocessor(_read_as_much_as_the_view_takes)
    CSRFProtect(app)
    app.after_request(_add_strict_transport if settings.secure_cookies else _add_headers)


def reads_up_to(size: int) -> Callable[[View], View]:
    """
    Mark a view that takes a file with how much it reads, whatever the site's limit for forms.

    Args:
        size: Largest request [bytes].
    """

    def mark(view: View) -> View:
        view.reads_up_to = size  # type: ignore[attr-defined]  # Functions take attributes; their type names none.
        return view

    return mark


def shown_once(page: str) -> Response:
    """
    The answer to a form that makes what only this page shows, as a password: no browser keeps it for the way back.

    There is no redirect to it: what is shown once is kept in no cookie and no address on the way to another page.
    """
    response = make_response(page, CREATED)
    response.headers["Cache-Control"] = "no-store"
    return response


def _read_as_much_as_the_view_takes(endpoint: str | None, values: object) -> None:
    del values
    size = getattr(current_app.view_functions.get(endpoint or ""), "reads_up_to", 0)
    if size:
        request.max_content_length = size


def cookie_name(settings: Settings, purpose: str) -> str:
    """Name of a cookie; over https with the prefix that ties it to this host, this path and https."""
    return f"__Host-trainer-{purpose}" if settings.secure_cookies else f"trainer-{purpose}"


def _add_headers(response: Response) -> Response:
    for name, value in HEADERS.items():
        response.headers.setdefault(name, value)
    return response


def _add_strict_transport(response: Response) -> Response:
    response.headers.setdefault("Strict-Transport-Security", f"max-age={ONE_YEAR}")
    return _add_headers(response)
