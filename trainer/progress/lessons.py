"""Which lessons a person has read."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.accounts.access import NotFoundError
from trainer.library.shelf import Library
from trainer.records.locks import add_if_missing
from trainer.records.models import LessonReading

__all__ = ["lessons_read", "mark_read"]


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
