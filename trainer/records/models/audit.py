"""Who did what, and when."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from sqlalchemy import ForeignKey, Index, String
from sqlalchemy.orm import Mapped, mapped_column

from trainer.records.models.base import Base, BigKey, Json
from trainer.records.types import UtcDateTime

__all__ = ["AuditLine"]


class AuditLine(Base):
    """Who did what to whom, or looked at whose record, and when."""

    __tablename__ = "audit_line"
    __table_args__ = (Index("ix_audit_line_subject_id_at", "subject_id", "at"),)

    at: Mapped[datetime] = mapped_column(UtcDateTime)
    actor_id: Mapped[int | None] = mapped_column(BigKey, ForeignKey("person.id"))
    subject_id: Mapped[int | None] = mapped_column(BigKey, ForeignKey("person.id"))
    group_id: Mapped[int | None] = mapped_column(BigKey, ForeignKey("study_group.id"))
    what: Mapped[str] = mapped_column(String(60))
    detail: Mapped[dict[str, Any] | None] = mapped_column(Json)
