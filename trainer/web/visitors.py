"""
Who may call which page.

Every view names its visitors with `@visitors(...)`; a route whose view names none is refused when it is registered.
What a visitor may see of other people's records is settled further down, by fetching it through
`trainer.accounts.access`. `tests/web/access.txt` holds what each kind of visitor meets on each route.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import timedelta
from enum import StrEnum
from typing import Any, TypeVar

from flask import Flask, abort, current_app, redirect, request, url_for
from werkzeug.wrappers import Response

from trainer.accounts.actor import Actor
from trainer.web.sessions import reader
from trainer.web.transactions import now

__all__ = ["UnnamedVisitorsError", "Visitor", "admit", "refuse_unnamed", "safe_next", "visitors"]

View = TypeVar("View", bound=Callable[..., Any])

#: A path on this site: one stroke, then neither stroke nor backslash, and nothing that a browser would strip.
SAFE_NEXT = re.compile(r"/(?:[^/\\\x00-\x20\x7f][^\\\x00-\x20\x7f]*)?")
LONGEST_NEXT = 500

PROOF_LASTS = timedelta(minutes=15)
"""How long a password that was typed opens what is dear to change."""


class Visitor(StrEnum):
    """Kinds of visitors. A role counts wherever the person has it now."""

    ANYONE = "anyone"
    SIGNED_IN = "signed in"
    LEARNER = "learner"
    INSTRUCTOR = "instructor"
    FOREMAN = "foreman"
    OWNER = "owner"
    ADMINISTRATOR = "administrator"


class UnnamedVisitorsError(TypeError):
    """A route's view does not say who may call it."""


def visitors(
    *kinds: Visitor,
    with_old_password: bool = False,
    before_told: bool = False,
    before_factor: bool = False,
    lately: bool = False,
) -> Callable[[View], View]:
    """
    Mark a view with the kinds of visitors who may call it; one that fits is enough.

    Args:
        kinds: Who may.
        with_old_password: Whether someone may who has to set a new password before anything else.
        before_told: Whether someone may who has still to read what a class sees that others put him into.
        before_factor: Whether someone may who has still to set up the second factor that a school or shop asks for.
        lately: Whether the password has to be typed anew where that is a quarter of an hour ago.
    """

    def mark(view: View) -> View:
        # Functions take attributes, of which their type knows none.
        view.visitors = frozenset(kinds)  # type: ignore[attr-defined]
        view.with_old_password = with_old_password  # type: ignore[attr-defined]
        view.before_told = before_told or with_old_password  # type: ignore[attr-defined]
        view.before_factor = before_factor or with_old_password  # type: ignore[attr-defined]
        view.lately = lately  # type: ignore[attr-defined]
        return view

    return mark


def refuse_unnamed(rule: str, view: Callable[..., Any] | None) -> None:
    """
    Refuse a route without visitors.

    Raises:
        UnnamedVisitorsError: When the view carries no `@visitors(...)`, or an empty one.
    """
    if not getattr(view, "visitors", None):
        name = getattr(view, "__qualname__", view)
        raise UnnamedVisitorsError(f"{rule}: {name} names no visitors; put @visitors(...) on it, below the route")


def admit(app: Flask) -> None:
    """Let each request through to its view, or send it where it belongs."""
    app.before_request(_admit)


def _admit() -> Response | None:
    if request.endpoint is None:
        return None
    view: Any = current_app.view_functions[request.endpoint]
    kinds: frozenset[Visitor] = view.visitors
    actor = reader()
    if Visitor.ANYONE in kinds:
        return None
    if actor is None:
        return redirect(url_for("account.sign_in", next=_came_for()), 303)
    if due := _due_first(actor, view):
        return due
    if not kinds & kinds_of(actor):
        abort(403)
    if view.lately and (actor.proved_at is None or now() - actor.proved_at > PROOF_LASTS):
        return redirect(url_for("second_factor.show_who", next=_page_of_request()), 303)
    return None


def _due_first(actor: Actor, view: Any) -> Response | None:
    """The page for what a person has to do before anything else; None when there is nothing, or this is the page."""
    if actor.must_change_password and not view.with_old_password:
        return redirect(url_for("account.password"), 303)
    if actor.is_untold:
        return None if view.before_told else redirect(url_for("sharing.told", next=_came_for()), 303)
    if actor.owes_second_factor and not view.before_factor:
        return redirect(url_for("second_factor.overview"), 303)
    return None


def kinds_of(actor: Actor) -> frozenset[Visitor]:
    """All kinds of visitor that someone who is signed in is."""
    roles = {Visitor(membership.role) for membership in actor.memberships}
    return frozenset({Visitor.SIGNED_IN, *roles} | ({Visitor.ADMINISTRATOR} if actor.is_site_administrator else set()))


def _came_for() -> str | None:
    """Where to go on after signing in; a form's own page for a form that came too late."""
    return request.full_path.rstrip("?") if request.method in {"GET", "HEAD"} else None


def _page_of_request() -> str | None:
    """The page that was asked for; that of the form, where a form came and its address has a page."""
    methods = request.url_rule.methods if request.url_rule else None
    return request.full_path.rstrip("?") if methods and "GET" in methods else None


def safe_next(text: str | None) -> str | None:
    r"""
    A path of this site to go on to; None for anything else, so that no link here leads elsewhere after signing in.

    >>> safe_next("/practice?skill=bends.offset")
    '/practice?skill=bends.offset'
    >>> safe_next("//elsewhere.example") is safe_next("https://elsewhere.example") is safe_next("/\\elsewhere") is None
    True
    """
    return text if text and len(text) <= LONGEST_NEXT and SAFE_NEXT.fullmatch(text) else None
