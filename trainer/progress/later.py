"""Later-year work: what a person has opened of it."""

from __future__ import annotations

from collections.abc import Container

from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.library.shelf import Library
from trainer.progress.lessons import lessons_read
from trainer.records import models

__all__ = ["opened_skills"]


def opened_skills(
    session: Session, library: Library, person_id: int, read: Container[str] | None = None
) -> frozenset[str]:
    """
    The skills whose later-year work a person has opened, by reading a later-year lesson of it or by having a problem of it.

    Such a problem was asked for by the person, or given by the instructor; the program never begins with one.

    Args:
        session: Any session.
        library: The content.
        person_id: The person.
        read: Ids of the lessons read, where they were looked up already.
    """
    later = {head.id: head.skill for head in library.heads.values() if head.later}
    if not later:
        return frozenset()
    had = select(models.Problem.family_id).where(
        models.Problem.person_id == person_id, models.Problem.family_id.in_(later)
    )
    by_problem = {later[family] for family in session.scalars(had.distinct())}
    if read is None:
        read = lessons_read(session, person_id)
    lessons = (lesson for lesson in library.lesson_heads.values() if lesson.later and lesson.id in read)
    return frozenset(by_problem.union(*(lesson.skills for lesson in lessons)))
