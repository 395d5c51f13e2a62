"""A problem that was issued on this site, found by its code."""

from __future__ import annotations

import os
from contextlib import closing

import click

from trainer.accounts.access import NotFoundError
from trainer.config import SettingsError, settings_from
from trainer.library.shelf import Library
from trainer.problems.errors import ContentError
from trainer.problems.family import Family
from trainer.problems.model import Problem
from trainer.problems.shelf import ContentRootError, content_root
from trainer.progress.by_code import problem_by_code
from trainer.records.engine import Database, DatabaseUrlError
from trainer.records.migrate import DatabaseVersionError, check_version

__all__ = ["issued"]


def issued(code: str) -> tuple[Family, Problem]:
    """
    The problem of a code, as it was issued.

    Raises:
        ClickException: With one plain line, when there is no site here, or no problem of this code on it.
    """
    try:
        settings = settings_from(os.environ)
        check_version(settings.database)
        library = Library(content_root(settings.content))
        with closing(Database(settings.database)) as database, database.read() as session:
            return problem_by_code(session, library, code)
    except NotFoundError:
        raise click.ClickException(f"No problem on this site has the code {code}.") from None
    except (SettingsError, DatabaseUrlError, DatabaseVersionError, ContentRootError, ContentError) as error:
        raise click.ClickException(str(error)) from None
