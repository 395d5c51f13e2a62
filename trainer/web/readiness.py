"""Whether this process can do its work, and what is missing where it cannot; for whoever runs the site."""

from __future__ import annotations

import logging
import os

from flask import current_app
from sqlalchemy.exc import SQLAlchemyError

from trainer.accounts.site import site_of
from trainer.accounts.site_key import is_other_key
from trainer.config import Settings
from trainer.records.revision import DatabaseVersionError, refuse_revision, revision_of
from trainer.web.content import library
from trainer.web.transactions import reading

__all__ = ["missing"]

log = logging.getLogger("trainer.web")


def missing() -> list[str]:
    """
    What stands in the way of serving pages, a line each; nothing where all is well.

    Names no address, no name and no secret: whoever can reach the site may read it.
    """
    return [*_of_records(), *_of_content(), *_of_folder()]


def _of_records() -> list[str]:
    try:
        return _of_database()
    except DatabaseVersionError as error:
        return [str(error)]
    except SQLAlchemyError:
        log.exception("records cannot be read")
        return ["The database cannot be read. The log says why."]


def _of_database() -> list[str]:
    with reading() as session:
        # A connection that was open when the tables were changed: on SQLite by hand, or behind a pooler.
        found = revision_of(session.connection())
        if found is None:
            return ["The database is empty. Run: trainer init"]
        refuse_revision(found)
        if site_of(session) is None:
            return ["The site is not made yet. Run: trainer init"]
        if is_other_key(session, str(current_app.secret_key)):
            return ["This host signs with another key than the site. Give all hosts the same TRAINER_SECRET_KEY."]
    return []


def _of_content() -> list[str]:
    held = library()
    return (
        [] if held.heads and held.lesson_heads else ["There are no lessons or no questions. Look at TRAINER_CONTENT."]
    )


def _of_folder() -> list[str]:
    settings: Settings = current_app.extensions["trainer.settings"]
    writable = os.access(settings.instance, os.W_OK | os.X_OK)
    return [] if writable else ["The folder of the site's own data cannot be written. Look at TRAINER_INSTANCE."]
