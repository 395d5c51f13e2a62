"""Problem sets that a school or shop keeps, and more time for one person at work that was given."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import CheckConstraint, ForeignKey, Index, Integer, String, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from trainer.records.models.base import Base, BigKey
from trainer.records.types import UtcDateTime, new_public_id

__all__ = ["ProblemSet", "ProblemSetLine", "WorkExtension"]


class ProblemSet(Base):
    """Problem families under a name, to be given again and again. Given work has lines of its own, pinned to versions."""

    __tablename__ = "problem_set"
    __table_args__ = (
        UniqueConstraint("public_id"),
        UniqueConstraint("organisation_id", "make_key"),
        CheckConstraint("length(name) BETWEEN 1 AND 120", name="name_length"),
        CheckConstraint("changed_at >= made_at", name="changed_after_making"),
        CheckConstraint("put_away_at IS NULL OR put_away_at >= made_at", name="put_away_after_making"),
        Index("ix_problem_set_organisation_id", "organisation_id"),
    )

    public_id: Mapped[str] = mapped_column(String(22), default=new_public_id)
    organisation_id: Mapped[int] = mapped_column(BigKey, ForeignKey("organisation.id"))
    name: Mapped[str] = mapped_column(String(120))
    #: UUID from the form: the same form sent twice makes one set.
    make_key: Mapped[str | None] = mapped_column(String(36))
    made_by_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    made_at: Mapped[datetime] = mapped_column(UtcDateTime)
    changed_at: Mapped[datetime] = mapped_column(UtcDateTime)
    put_away_at: Mapped[datetime | None] = mapped_column(UtcDateTime)


class ProblemSetLine(Base):
    """How many problems of a family, or runs of a job, a set asks: by id, so that what is given is as it stands then."""

    __tablename__ = "problem_set_line"
    __table_args__ = (
        UniqueConstraint("problem_set_id", "position"),
        UniqueConstraint("problem_set_id", "family_id"),
        CheckConstraint("position >= 1", name="position_from_one"),
        CheckConstraint("asked >= 1 AND asked <= 10", name="asked_range"),
    )

    problem_set_id: Mapped[int] = mapped_column(BigKey, ForeignKey("problem_set.id"))
    position: Mapped[int] = mapped_column(Integer)
    family_id: Mapped[str] = mapped_column(String(80))
    asked: Mapped[int] = mapped_column(Integer)


class WorkExtension(Base):
    """More time for one person at work that was given. Only ever added; the latest counts."""

    __tablename__ = "work_extension"
    __table_args__ = (
        CheckConstraint("length(reason) BETWEEN 1 AND 200", name="reason_length"),
        CheckConstraint("ends_at > given_at", name="ends_after_giving"),
        Index("ix_work_extension_assigned_work_id_person_id", "assigned_work_id", "person_id"),
        Index("ix_work_extension_person_id", "person_id"),
    )

    assigned_work_id: Mapped[int] = mapped_column(BigKey, ForeignKey("assigned_work.id"))
    person_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    ends_at: Mapped[datetime] = mapped_column(UtcDateTime)
    reason: Mapped[str] = mapped_column(String(200))
    given_by_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    given_at: Mapped[datetime] = mapped_column(UtcDateTime)
