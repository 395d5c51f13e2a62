"""Hours on the job by work process, and who was there on which day of a class."""

from __future__ import annotations

from datetime import date, datetime

from sqlalchemy import CheckConstraint, Date, ForeignKey, Index, Integer, String, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from trainer.records.models.base import Base, BigKey, one_of
from trainer.records.types import UtcDateTime, new_public_id

__all__ = ["Attendance", "ClassDay", "JobHours", "WorkProcess"]


class JobHours(Base):
    """
    Hours of one day on one work process, as the person entered them, and what a supervisor said.

    The latest decision counts; every one of them is noted in the audit log.
    """

    __tablename__ = "job_hours"
    __table_args__ = (
        UniqueConstraint("public_id"),
        CheckConstraint("quarters BETWEEN 1 AND 96", name="quarters_range"),
        CheckConstraint("length(note) <= 200", name="note_length"),
        CheckConstraint(one_of("decision", "confirmed", "sent-back"), name="decision"),
        CheckConstraint("(decision IS NULL) = (decided_at IS NULL)", name="decided_at_with_decision"),
        CheckConstraint("(decision IS NULL) = (decided_by_id IS NULL)", name="decided_by_with_decision"),
        CheckConstraint("decided_by_id <> person_id", name="decided_by_another"),
        CheckConstraint("decision <> 'sent-back' OR reason IS NOT NULL", name="sent_back_with_reason"),
        CheckConstraint("length(reason) BETWEEN 1 AND 200", name="reason_length"),
        CheckConstraint("taken_back_at IS NULL OR taken_back_at >= entered_at", name="taken_back_after_entry"),
        Index("ix_job_hours_person_id_day", "person_id", "day"),
        Index("ix_job_hours_group_id", "group_id"),
    )

    public_id: Mapped[str] = mapped_column(String(22), default=new_public_id)
    person_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    #: The crew whose leaders confirm them.
    group_id: Mapped[int] = mapped_column(BigKey, ForeignKey("study_group.id"))
    #: In the calendar of the crew's shop.
    day: Mapped[date] = mapped_column(Date)
    process: Mapped[str] = mapped_column(String(40))
    #: Quarters of an hour.
    quarters: Mapped[int] = mapped_column(Integer)
    note: Mapped[str] = mapped_column(String(200), default="")
    entered_at: Mapped[datetime] = mapped_column(UtcDateTime)
    decision: Mapped[str | None] = mapped_column(String(10))
    decided_at: Mapped[datetime | None] = mapped_column(UtcDateTime)
    decided_by_id: Mapped[int | None] = mapped_column(BigKey, ForeignKey("person.id"))
    reason: Mapped[str | None] = mapped_column(String(200))
    taken_back_at: Mapped[datetime | None] = mapped_column(UtcDateTime)


class ClassDay(Base):
    """One day of a class, for the list of who was there."""

    __tablename__ = "class_day"
    __table_args__ = (
        UniqueConstraint("public_id"),
        CheckConstraint("length(topic) BETWEEN 1 AND 120", name="topic_length"),
        CheckConstraint("quarters BETWEEN 1 AND 96", name="quarters_range"),
        Index("ix_class_day_group_id_day", "group_id", "day"),
    )

    public_id: Mapped[str] = mapped_column(String(22), default=new_public_id)
    group_id: Mapped[int] = mapped_column(BigKey, ForeignKey("study_group.id"))
    day: Mapped[date] = mapped_column(Date)
    topic: Mapped[str] = mapped_column(String(120))
    #: Quarters of an hour that the class took.
    quarters: Mapped[int] = mapped_column(Integer)
    noted_by_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    noted_at: Mapped[datetime] = mapped_column(UtcDateTime)


class Attendance(Base):
    """That a person was there. The row goes when the tick is taken back, and the audit log says so."""

    __tablename__ = "attendance"
    __table_args__ = (
        UniqueConstraint("class_day_id", "person_id"),
        Index("ix_attendance_person_id", "person_id"),
    )

    class_day_id: Mapped[int] = mapped_column(BigKey, ForeignKey("class_day.id"))
    person_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    noted_by_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    noted_at: Mapped[datetime] = mapped_column(UtcDateTime)


class WorkProcess(Base):
    """
    A work process of a school's or shop's own list; hours carry its `key`.

    One that hours were entered on is never removed, only closed. An organisation without a row here goes by the
    ready-made list.
    """

    __tablename__ = "work_process"
    __table_args__ = (
        UniqueConstraint("organisation_id", "key"),
        CheckConstraint("length(key) BETWEEN 1 AND 40", name="key_length"),
        CheckConstraint("length(title) BETWEEN 1 AND 80", name="title_length"),
        CheckConstraint("required_hours BETWEEN 1 AND 20000", name="required_hours_range"),
        CheckConstraint("position >= 1", name="position_from_one"),
    )

    organisation_id: Mapped[int] = mapped_column(BigKey, ForeignKey("organisation.id"))
    key: Mapped[str] = mapped_column(String(40))
    title: Mapped[str] = mapped_column(String(80))
    #: Hours that the program asks for; None where it asks for no number.
    required_hours: Mapped[int | None] = mapped_column(Integer)
    position: Mapped[int] = mapped_column(Integer)
    closed_at: Mapped[datetime | None] = mapped_column(UtcDateTime)
