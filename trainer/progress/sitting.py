"""One person at one problem: its rows, its family as pinned, and the problem itself with all its words."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.accounts.access import NotFoundError
from trainer.library.shelf import Library
from trainer.library.versions import family_at
from trainer.problems.family import Family
from trainer.problems.model import Problem
from trainer.problems.store import restore
from trainer.records import models
from trainer.records.types import is_public_id

__all__ = ["Sitting", "sit_down"]


@dataclass(frozen=True, slots=True)
class Sitting:
    """
    A person at a problem.

    Args:
        row: The problem as issued.
        family: Its family, in the version that was used.
        problem: The problem, with its words filled in.
    """

    row: models.Problem
    family: Family
    problem: Problem

    @property
    def open(self) -> bool:
        """Whether it still takes answers."""
        return self.row.closed_at is None


def sit_down(session: Session, library: Library, person_id: int, public_id: str, language: str = "en") -> Sitting:
    """
    Fetch a person's own problem.

    Raises:
        NotFoundError: When the person has no such problem.
    """
    if not is_public_id(public_id):
        raise NotFoundError
    query = (
        select(models.Problem, models.ContentVersion)
        .join(models.ContentVersion, models.ContentVersion.id == models.Problem.content_version_id)
        .where(models.Problem.public_id == public_id, models.Problem.person_id == person_id)
    )
    found = session.execute(query).one_or_none()
    if found is None:
        raise NotFoundError
    row, version = found
    family = family_at(library, version)
    return Sitting(row, family, restore(family, row.seed, row.edition, row.drawn, language=language))
