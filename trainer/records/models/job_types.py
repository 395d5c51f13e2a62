"""Job types: what a shop sends people to do, and what a person must have shown before he goes."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from sqlalchemy import (
    Boolean,
    CheckConstraint,
    ForeignKey,
    Index,
    Integer,
    String,
    UniqueConstraint,
    text,
)
from sqlalchemy.orm import Mapped, mapped_column

from trainer.records.models.base import Base, BigKey, Json, one_of
from trainer.records.types import UtcDateTime, new_public_id

__all__ = ["JobType", "JobTypeCheck", "JobTypeSkill"]


class JobType(Base):
    """A kind of job of one shop or school, as its owner describes it."""

    __tablename__ = "job_type"
    __table_args__ = (
        UniqueConstraint("public_id"),
        CheckConstraint("length(name) BETWEEN 1 AND 120", name="name_length"),
        CheckConstraint("length(supervision) BETWEEN 1 AND 400", name="supervision_length"),
        CheckConstraint("valid_days IS NULL OR valid_days > 0", name="valid_days_positive"),
        CheckConstraint(one_of("registration", "registration", "licence"), name="registration"),
        Index("ix_job_type_organisation_id", "organisation_id"),
        Index(
            "uq_job_type_used_name",
            "organisation_id",
            "name",
            unique=True,
            sqlite_where=text("ended_at IS NULL"),
        ),
    )

    public_id: Mapped[str] = mapped_column(String(22), default=new_public_id)
    organisation_id: Mapped[int] = mapped_column(BigKey, ForeignKey("organisation.id"))
    name: Mapped[str] = mapped_column(String(120))
    about: Mapped[str] = mapped_column(String(400), default="")
    #: The supervision that it needs, in a sentence of the owner's.
    supervision: Mapped[str] = mapped_column(String(400))
    #: Whether only proof runs that somebody watched count.
    watched: Mapped[bool] = mapped_column(Boolean(create_constraint=False), default=False)
    #: What has to be entered and in date: a registration (a licence stands for it), or a licence; None for neither.
    registration: Mapped[str | None] = mapped_column(String(12))
    #: How long a proof run or a hands-on check counts; None where only fading ends it.
    valid_days: Mapped[int | None] = mapped_column(Integer)
    #: Trade sizes that are used on it: a list of texts.
    trade_sizes: Mapped[list[Any]] = mapped_column(Json)
    created_at: Mapped[datetime] = mapped_column(UtcDateTime)
    ended_at: Mapped[datetime | None] = mapped_column(UtcDateTime)


class JobTypeSkill(Base):
    """A skill that a job type needs, and how strict ready is meant there."""

    __tablename__ = "job_type_skill"
    __table_args__ = (
        UniqueConstraint("job_type_id", "skill"),
        CheckConstraint(one_of("line", "strict", "light"), name="line"),
    )

    job_type_id: Mapped[int] = mapped_column(BigKey, ForeignKey("job_type.id"))
    skill: Mapped[str] = mapped_column(String(40))
    line: Mapped[str] = mapped_column(String(8))


class JobTypeCheck(Base):
    """A hands-on check that a job type needs, in one trade size."""

    __tablename__ = "job_type_check"
    __table_args__ = (UniqueConstraint("job_type_id", "kind", "trade_size"),)

    job_type_id: Mapped[int] = mapped_column(BigKey, ForeignKey("job_type.id"))
    kind: Mapped[str] = mapped_column(String(40))
    trade_size: Mapped[str] = mapped_column(String(8))
