"""Field findings: what the job showed of a person's skill, as who leads the class or crew reports it."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import CheckConstraint, ForeignKey, Index, String, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from trainer.records.models.base import Base, BigKey, one_of
from trainer.records.types import UtcDateTime, new_public_id

__all__ = ["FieldFinding"]


class FieldFinding(Base):
    """One finding about one person's skill. It is changed only to withdraw it, with a reason, and by deleting the account."""

    __tablename__ = "field_finding"
    __table_args__ = (
        UniqueConstraint("public_id"),
        CheckConstraint(one_of("kind", "failed-inspection", "scrapped", "dog-leg", "other", "good-work"), name="kind"),
        CheckConstraint("length(note) BETWEEN 1 AND 300", name="note_length"),
        CheckConstraint("reported_by_id <> person_id", name="reported_by_another"),
        CheckConstraint("(withdrawn_at IS NULL) = (withdrawn_reason IS NULL)", name="withdrawn_with_reason"),
        CheckConstraint("withdrawn_at IS NULL OR withdrawn_at >= reported_at", name="withdrawn_after_report"),
        CheckConstraint("length(withdrawn_reason) BETWEEN 1 AND 300", name="withdrawn_reason_length"),
        Index("ix_field_finding_person_id_skill", "person_id", "skill"),
        Index("ix_field_finding_group_id", "group_id"),
    )

    public_id: Mapped[str] = mapped_column(String(22), default=new_public_id)
    person_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    #: The class or crew as whose leader it was reported.
    group_id: Mapped[int] = mapped_column(BigKey, ForeignKey("study_group.id"))
    skill: Mapped[str] = mapped_column(String(40))
    kind: Mapped[str] = mapped_column(String(20))
    note: Mapped[str] = mapped_column(String(300))
    reported_by_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    reported_at: Mapped[datetime] = mapped_column(UtcDateTime)
    withdrawn_at: Mapped[datetime | None] = mapped_column(UtcDateTime)
    withdrawn_reason: Mapped[str | None] = mapped_column(String(300))
