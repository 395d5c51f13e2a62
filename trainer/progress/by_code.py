"""A problem found by the code that is printed on it: for whoever runs the site, from its shell."""

from __future__ import annotations

from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.accounts.access import NotFoundError
from trainer.library.shelf import Library
from trainer.library.versions import family_at
from trainer.problems.family import Family
from trainer.problems.model import Problem
from trainer.problems.store import restore
from trainer.records import models

__all__ = ["problem_by_code"]


def problem_by_code(session: Session, library: Library, code: str) -> tuple[Family, Problem]:
    """
    The problem of a code, as it was issued, with its family in the version that was used. It does not say to whom.

    Args:
        session: Any session; nothing is written.
        library: The content.
        code: As `trainer.problems.codes.read_code` gives it.

    Raises:
        NotFoundError: When no problem has this code.
    """
    query = (
        select(models.Problem, models.ContentVersion)
        .join(models.ContentVersion, models.ContentVersion.id == models.Problem.content_version_id)
        .where(models.Problem.code == code)
    )
    found = session.execute(query).one_or_none()
    if found is None:
        raise NotFoundError
    row, version = found
    family = family_at(library, version)
    return family, restore(family, row.seed, row.edition, row.drawn)
