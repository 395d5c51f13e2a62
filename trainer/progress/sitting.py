"""One person at one problem: its rows, its family as pinned, and the problem itself with all its words."""

from __future__ import annotations

from functools import cache

from msgspec import Struct
from sqlalchemy import ColumnElement, Select, bindparam, func, select
from sqlalchemy.orm import Session, aliased

from trainer.accounts.access import NotFoundError
from trainer.library.shelf import Library
from trainer.library.versions import family_at
from trainer.problems.family import Family
from trainer.problems.model import Problem
from trainer.problems.store import restore
from trainer.progress.rulings import under_ruling
from trainer.records import models
from trainer.records.types import is_public_id

__all__ = ["Sitting", "in_force", "sit_down"]


class Sitting(Struct, frozen=True):
    """
    A person at a problem.

    Args:
        row: The problem as issued.
        family: Its family, in the version that was used.
        problem: The problem, with its words filled in, as it is judged under the ruling.
        ruling: What was decided about its key; None where nothing was.
    """

    row: models.Problem
    family: Family
    problem: Problem
    ruling: models.KeyRuling | None = None

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
    found = session.execute(_own(), {"public_id": public_id, "person_id": person_id}).one_or_none()
    if found is None:
        raise NotFoundError
    row, version, ruling = found
    family = family_at(library, version)
    problem = restore(family, row.seed, row.edition, row.drawn, language=language)
    return Sitting(row, *under_ruling(library, ruling, family, problem, language=language), ruling)


@cache
def _own() -> Select[models.Problem, models.ContentVersion, models.KeyRuling]:
    """A person's problem with its version and ruling; built once, for each page of a problem and each answer asks."""
    problem = models.Problem
    return (
        select(problem, models.ContentVersion, models.KeyRuling)
        .join(models.ContentVersion, models.ContentVersion.id == problem.content_version_id)
        .outerjoin(models.KeyRuling, in_force())
        .where(problem.public_id == bindparam("public_id"), problem.person_id == bindparam("person_id"))
    )


def in_force() -> ColumnElement[bool]:
    """That a ruling is the latest about the rules of the content version of the query around."""
    later = aliased(models.KeyRuling)
    newest = select(func.max(later.sequence)).where(later.rules_hash == models.ContentVersion.rules_hash)
    return (models.KeyRuling.rules_hash == models.ContentVersion.rules_hash) & (
        models.KeyRuling.sequence == newest.scalar_subquery()
    )
