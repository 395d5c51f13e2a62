"""
Who is reading: the cookie's token, looked up once a request.

`reader()` is the person who is signed in, or None; `actor()` the same where the page's `@visitors` makes sure of one.
"""

from __future__ import annotations

from datetime import datetime

import flask
from flask import Flask, after_this_request, current_app, g, request
from sqlalchemy.exc import DBAPIError
from werkzeug.wrappers import Response

from trainer.accounts.actor import Actor, actor_for
from trainer.accounts.keeping import Keeping
from trainer.accounts.passwords import Passwords
from trainer.accounts.sessions import SignInLife, touch
from trainer.accounts.sign_in import CodeDue, Proved, SignedIn
from trainer.config import LOOPBACK, Settings
from trainer.web.security import cookie_name
from trainer.web.transactions import glancing, now, writing
from trainer.web.troubles import passes_without

__all__ = [
    "actor",
    "cookie_would_be_lost",
    "forget",
    "half_token",
    "keeping",
    "know_readers",
    "needs_https",
    "passwords",
    "reader",
    "remember",
    "remember_half",
    "renew_token",
    "sign_in_life",
    "site_key",
    "token",
]


def know_readers(app: Flask, settings: Settings, kept: Passwords) -> None:
    """Look the reader up before each request, for the pages of errors too."""
    app.extensions["trainer.settings"] = settings
    app.extensions["trainer.passwords"] = kept
    life = SignInLife(settings.sign_in_idle, settings.sign_in_longest, settings.keep_ended)
    app.extensions["trainer.keeping"] = Keeping(life, settings.keep_looks, settings.keep_log)
    app.before_request(_look_up)


def reader() -> Actor | None:
    """The person who is signed in; None for anybody else, and where nothing was looked up."""
    found: Actor | None = g.get("actor")
    return found


def actor() -> Actor:
    """
    The person who is signed in.

    Raises:
        LookupError: When nobody is; the view's `@visitors` should have seen to that.
    """
    found = reader()
    if found is None:
        raise LookupError(f"{request.endpoint} asks who is signed in, but lets others in")
    return found


def passwords() -> Passwords:
    """How this site stores passwords."""
    found: Passwords = current_app.extensions["trainer.passwords"]
    return found


def keeping() -> Keeping:
    """How long this site keeps what passes."""
    found: Keeping = current_app.extensions["trainer.keeping"]
    return found


def sign_in_life() -> SignInLife:
    """How long sign-ins of this site last."""
    return keeping().life


def token() -> str | None:
    """The token that the browser sent, or the one that took its place in this request."""
    renewed: str | None = g.get("renewed_token")
    return renewed or request.cookies.get(_name())


def renew_token(proved: Proved) -> None:
    """Give the browser the token of a person who has shown anew who it is, with whatever this request answers."""
    g.renewed_token = proved.token

    @after_this_request
    def _give(response: Response) -> Response:
        _set_cookie(response, _name(), proved.token, proved.expires_at)
        return response


def remember(response: Response, signed_in: SignedIn) -> None:
    """Give the browser its token, and a new form token with it: one that somebody else planted is worth nothing."""
    flask.session.clear()
    _set_cookie(response, _name(), signed_in.token, signed_in.expires_at)
    if half_token() is not None:
        _delete_cookie(response, _half_name())


def half_token() -> str | None:
    """The token of a sign-in whose code is due, as the browser sent it."""
    return request.cookies.get(_half_name())


def remember_half(response: Response, due: CodeDue) -> None:
    """Give the browser the token of a sign-in whose code is due; it opens the page for the code and nothing else."""
    _set_cookie(response, _half_name(), due.token, due.expires_at)


def site_key() -> str:
    """The key of the site, from which secrets are worked out that are stored nowhere."""
    return str(current_app.secret_key)


def forget(response: Response) -> None:
    """Take the token back, and what the browser has kept of the pages."""
    flask.session.clear()
    _delete_cookie(response, _name())
    response.headers["Clear-Site-Data"] = '"cache", "storage"'


def cookie_would_be_lost() -> bool:
    """Whether the cookies of this site go over https only, and this request came without."""
    return _settings().secure_cookies and not request.is_secure


def needs_https() -> bool:
    """
    Whether to say beforehand that this site needs https.

    Not on this very machine: most browsers keep its secure cookies over plain http too, and where one doesn't, the page
    of the form that comes back without its cookie says so.
    """
    name, colon, port = request.host.rpartition(":")
    host = name if colon and port.isdigit() else request.host
    return cookie_would_be_lost() and host not in LOOPBACK


def _settings() -> Settings:
    found: Settings = current_app.extensions["trainer.settings"]
    return found


def _name() -> str:
    return cookie_name(_settings(), "reader")


def _half_name() -> str:
    return cookie_name(_settings(), "half")


def _set_cookie(response: Response, name: str, value: str, expires: datetime) -> None:
    secure = _settings().secure_cookies
    response.set_cookie(name, value, expires=expires, path="/", secure=secure, httponly=True, samesite="Lax")


def _delete_cookie(response: Response, name: str) -> None:
    response.delete_cookie(name, path="/", secure=_settings().secure_cookies, httponly=True, samesite="Lax")


def _look_up() -> None:
    found = token()
    if found is None:
        return
    with glancing() as connection:
        g.actor = actor_for(connection, found, now(), life=sign_in_life())
    if g.actor is not None and g.actor.touch_due:
        _note_use(found)


def _note_use(found: str) -> None:
    """Note that a browser is in use; where nothing can be written now, its reader may read all the same."""
    try:
        with writing() as session:
            touch(session, found, now(), life=sign_in_life())
    except DBAPIError as error:
        if not passes_without(error):
            raise
