"""One person at one problem: its rows, its family as pinned, and the problem itself with all its words."""

from __future__ import annotations

from datetime import datetime
from functools import cache
from typing import Any

from msgspec import Struct
from sqlalchemy import ColumnElement, Select, bindparam, func, select
from sqlalchemy.orm import Session, aliased

from trainer.accounts.access import NotFoundError
from trainer.library.shelf import Library
from trainer.library.versions import family_at
from trainer.problems.family import Family
from trainer.problems.model import Problem
from trainer.problems.store import restore
from trainer.progress.room import more_time_until
from trainer.progress.rulings import under_ruling
from trainer.records import models
from trainer.records.types import is_public_id

__all__ = ["Sitting", "in_force", "sit_down"]

ROOM = "room"


class Sitting(Struct, frozen=True):
    """
    A person at a problem.

    Args:
        row: The problem as issued.
        family: Its family, in the version that was used.
        problem: The problem, with its words filled in, as it is judged under the ruling.
        ruling: What was decided about its key; None where nothing was.
        answered: How often it was answered so far.
        line: Public id of the assigned work that it was issued for, and its place there; None for other problems.
        room_ends: When work in the room, for which it was issued, ends for this learner; None where it is for none.
        repeats: Id of the person's answer under the key that was asked about; None without one.
    """

    row: models.Problem
    family: Family
    problem: Problem
    ruling: models.KeyRuling | None = None
    answered: int = 0
    line: tuple[str, int] | None = None
    room_ends: datetime | None = None
    repeats: int | None = None

    @property
    def open(self) -> bool:
        """Whether it still takes answers."""
        return self.row.closed_at is None


def sit_down(
    session: Session, library: Library, person_id: int, public_id: str, language: str = "en", *, key: str = ""
) -> Sitting:
    """
    Fetch a person's own problem, with one statement.

    Args:
        session: Any session.
        library: The content.
        person_id: The person.
        public_id: The problem.
        language: In which the core's own words are said.
        key: Of the form whose answer may be on record already; "" to ask about none.

    Raises:
        NotFoundError: When the person has no such problem.
    """
    if not is_public_id(public_id):
        raise NotFoundError
    which = {"public_id": public_id, "person_id": person_id, "key": key}
    found = session.execute(_own(), which).one_or_none()
    if found is None:
        raise NotFoundError
    row, version, ruling, answered, repeats, *work = found
    family = family_at(library, version)
    problem = restore(family, row.seed, row.edition, row.drawn, language=language)
    return Sitting(
        row,
        *under_ruling(library, ruling, family, problem, language=language),
        ruling,
        answered,
        repeats=repeats,
        **_given_for(*work),
    )


def _given_for(
    work: str | None,
    position: int | None,
    kind: str | None,
    withdrawn_at: datetime | None,
    *ends: datetime | None,
) -> dict[str, Any]:
    """What a sitting says of the assigned work that its problem was issued for."""
    if work is None:
        return {}
    in_room = kind == ROOM and withdrawn_at is None
    last = max(end for end in ends if end is not None)
    return {"line": (work, position), "room_ends": last if in_room else None}


@cache
def _own() -> Select[*tuple[Any, ...]]:
    """A person's problem and all about it; built once, for each page of a problem and each answer asks."""
    problem, answer, line, work = models.Problem, models.Answer, models.AssignedFamily, models.AssignedWork
    answered = select(func.count()).select_from(answer).where(answer.problem_id == problem.id)
    under_key = answer.person_id == bindparam("person_id"), answer.answer_key == bindparam("key")
    return (
        select(
            problem,
            models.ContentVersion,
            models.KeyRuling,
            answered.scalar_subquery(),
            select(answer.id).where(*under_key).scalar_subquery(),
            work.public_id,
            line.position,
            work.kind,
            work.withdrawn_at,
            work.due_at,
            more_time_until(work.id, problem.person_id),
        )
        .join(models.ContentVersion, models.ContentVersion.id == problem.content_version_id)
        .outerjoin(models.KeyRuling, in_force())
        .outerjoin(line, line.id == problem.assigned_family_id)
        .outerjoin(work, work.id == line.assigned_work_id)
        .where(problem.public_id == bindparam("public_id"), problem.person_id == bindparam("person_id"))
    )


def in_force() -> ColumnElement[bool]:
    """That a ruling is the latest about the rules of the content version of the query around."""
    later = aliased(models.KeyRuling)
    newest = select(func.max(later.sequence)).where(later.rules_hash == models.ContentVersion.rules_hash)
    return (models.KeyRuling.rules_hash == models.ContentVersion.rules_hash) & (
        models.KeyRuling.sequence == newest.scalar_subquery()
    )
