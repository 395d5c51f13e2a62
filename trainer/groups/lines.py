"""The lines of assigned work: which family each asks, as it stood when the work was given."""

from __future__ import annotations

from collections.abc import Collection
from functools import cache

from msgspec import Struct
from sqlalchemy import Select, bindparam, select
from sqlalchemy.orm import Session

from trainer.library.shelf import Library
from trainer.library.versions import family_at
from trainer.problems.family import Family
from trainer.progress.issue import seed_for
from trainer.records.models import AssignedFamily, ContentVersion

__all__ = ["WorkLine", "lines_of", "shared_numbers"]


class WorkLine(Struct, frozen=True):
    """One line: its place from 1, and its family in the pinned version."""

    position: int
    family: Family


def lines_of(session: Session, library: Library, works: Collection[int]) -> dict[int, list[WorkLine]]:
    """The lines of each work in their order, by id of the work, with one query."""
    found: dict[int, list[WorkLine]] = {}
    for work_id, position, version in session.execute(_lines(), {"works": works}):
        found.setdefault(work_id, []).append(WorkLine(position, family_at(library, version)))
    return found


@cache
def _lines() -> Select[int, int, ContentVersion]:
    """Built once: each page of a problem of assigned work asks."""
    line = AssignedFamily
    return (
        select(line.assigned_work_id, line.position, ContentVersion)
        .join(ContentVersion, ContentVersion.id == line.content_version_id)
        .where(line.assigned_work_id.in_(bindparam("works", expanding=True)))
        .order_by(line.assigned_work_id, line.position)
    )


def shared_numbers(shared_seed: int, position: int, nth: int = 1) -> int:
    """
    The seed of the `nth` problem of a line where all get the same numbers.

    Args:
        shared_seed: Of the work.
        position: The line.
        nth: The how-manieth problem of this line.
    """
    return seed_for(f"{shared_seed}:{position}", nth)
