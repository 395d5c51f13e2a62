"""The content of the site as the pages reach it: lessons, families and skills, held by each process."""

from __future__ import annotations

from flask import Flask, current_app
from sqlalchemy.orm import Session

from trainer.accounts.site import site_of
from trainer.calc.trace import hold_sources
from trainer.config import Settings
from trainer.library.shelf import Library
from trainer.problems.local import LocalRule
from trainer.problems.shelf import content_root
from trainer.web.sessions import actor

__all__ = ["NEWEST", "content_of", "edition_of", "keep_content", "library", "own_library", "own_local_rules"]

NEWEST = "2023"
"""Edition of the rules where no site was made yet, as in a test."""


def content_of(settings: Settings) -> Library:
    """
    The content that the settings name.

    Content that somebody is writing, in development or in a folder of his own, is read through at once, so that he is told
    what is amiss; the content that comes with the program was, and is compiled when it is wanted.

    Raises:
        ContentRootError: When the folder is not there.
        ContentError: When a file in it cannot be used.
    """
    return Library(content_root(settings.content), checked=settings.development or settings.content is not None)


def keep_content(app: Flask, settings: Settings) -> None:
    """
    Tie the content to the application; what writes the steps is read with it, and compiled when it is used.

    Raises:
        ContentRootError, ContentError: As `content_of`.
    """
    hold_sources()
    app.extensions["trainer.library"] = content_of(settings)


def library() -> Library:
    """The content."""
    found: Library = current_app.extensions["trainer.library"]
    return found


def own_library() -> Library:
    """The content under the local rules of the school or shop of the person who asks."""
    return library().under(actor().local_rules)


def own_local_rules() -> list[LocalRule]:
    """The local rules of the school or shop of the person who asks."""
    return [rule for name, rule in library().local_rules.items() if name in actor().local_rules]


def edition_of(session: Session) -> str:
    """Edition of the rules that new problems of this site follow."""
    site = site_of(session)
    return site.edition if site else NEWEST
