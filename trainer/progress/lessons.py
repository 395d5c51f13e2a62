"""Which lessons a person has read."""

from __future__ import annotations

from datetime import datetime
from functools import cache

from sqlalchemy import Connection, Select, bindparam, select
from sqlalchemy.orm import Session

from trainer.accounts.access import NotFoundError
from trainer.library.shelf import Library
from trainer.records.locks import add_if_missing
from trainer.records.models import LessonReading, Person, Site

__all__ = ["lessons_read", "lessons_read_and_edition", "mark_read"]


def mark_read(session: Session, library: Library, person_id: int, lesson_id: str, now: datetime) -> None:
    """
    Note that a person has read a lesson to its end; again moves the date.

    Raises:
        NotFoundError: When there is no such lesson.
    """
    if lesson_id not in library.lessons:
        raise NotFoundError
    add_if_missing(session, LessonReading, person_id=person_id, lesson_id=lesson_id, read_at=now)
    query = select(LessonReading).where(LessonReading.person_id == person_id, LessonReading.lesson_id == lesson_id)
    session.scalars(query).one().read_at = now


def lessons_read(session: Session, person_id: int) -> dict[str, datetime]:
    """When a person last read each lesson."""
    query = select(LessonReading.lesson_id, LessonReading.read_at).where(LessonReading.person_id == person_id)
    return dict(session.execute(query).all())


def lessons_read_and_edition(glance: Connection, person_id: int) -> tuple[dict[str, datetime], str | None]:
    """The same, and the edition of the site's rules (None before it is made): what a lesson's page asks. One statement."""
    found = glance.execute(_read_and_edition(), {"person_id": person_id}).all()
    read = {lesson_id: read_at for _, lesson_id, read_at in found if lesson_id is not None and read_at is not None}
    return read, found[0].edition if found else None


@cache
def _read_and_edition() -> Select[str | None, str | None, datetime | None]:
    """A row for each lesson read, or a single one; built once."""
    mine = LessonReading.person_id == Person.id
    return (
        select(select(Site.edition).scalar_subquery().label("edition"), LessonReading.lesson_id, LessonReading.read_at)
        .select_from(Person)
        .outerjoin(LessonReading, mine)
        .where(Person.id == bindparam("person_id"))
    )
