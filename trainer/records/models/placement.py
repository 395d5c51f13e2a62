"""Placement runs: what somebody knows already, found out by few questions."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from sqlalchemy import CheckConstraint, ForeignKey, Index, UniqueConstraint, text
from sqlalchemy.orm import Mapped, mapped_column

from trainer.records.models.base import Base, BigKey, Json
from trainer.records.types import UtcDateTime

__all__ = ["PlacementRun"]


class PlacementRun(Base):
    """One person's run from its beginning to its first picture. Its answers are those to its problems."""

    __tablename__ = "placement_run"
    __table_args__ = (
        UniqueConstraint("id", "person_id"),
        CheckConstraint("(picture IS NULL) = (ended_at IS NULL)", name="ends_with_picture"),
        CheckConstraint("ended_at IS NULL OR ended_at >= started_at", name="ends_after_start"),
        Index("ix_placement_run_person_id", "person_id"),
        Index(
            "uq_placement_run_open",
            "person_id",
            unique=True,
            sqlite_where=text("ended_at IS NULL"),
        ),
    )

    person_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    started_at: Mapped[datetime] = mapped_column(UtcDateTime)
    ended_at: Mapped[datetime | None] = mapped_column(UtcDateTime)
    #: What came of it, as `progress.placement_picture` writes it down.
    picture: Mapped[dict[str, Any] | None] = mapped_column(Json)
