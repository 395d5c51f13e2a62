"""Keys in doubt: what learners say of them, what was decided, and marks that a leader sets beside the results."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import (
    CheckConstraint,
    Float,
    ForeignKey,
    ForeignKeyConstraint,
    Index,
    Integer,
    String,
    UniqueConstraint,
)
from sqlalchemy.orm import Mapped, mapped_column

from trainer.records.models.base import Base, BigKey, one_of
from trainer.records.types import UtcDateTime, new_public_id

__all__ = ["KeyClaim", "KeyRuling", "ResultMark"]


class KeyClaim(Base):
    """A learner says that the key of a problem is wrong; one claim a problem. The reply is written into it once."""

    __tablename__ = "key_claim"
    __table_args__ = (
        UniqueConstraint("public_id"),
        UniqueConstraint("problem_id"),
        # Nobody claims anything about another person's problem.
        ForeignKeyConstraint(["problem_id", "person_id"], ["problem.id", "problem.person_id"]),
        CheckConstraint("length(own_answer) BETWEEN 1 AND 200", name="own_answer_length"),
        CheckConstraint("length(why) BETWEEN 1 AND 600", name="why_length"),
        CheckConstraint(one_of("outcome", "key-right", "key-wrong"), name="outcome"),
        CheckConstraint("(outcome IS NULL) = (answered_at IS NULL)", name="answered_with_outcome"),
        CheckConstraint("length(reply) <= 600", name="reply_length"),
        Index("ix_key_claim_person_id", "person_id"),
        Index("ix_key_claim_answered_at", "answered_at"),
    )

    public_id: Mapped[str] = mapped_column(String(22), default=new_public_id)
    problem_id: Mapped[int] = mapped_column(BigKey)
    person_id: Mapped[int] = mapped_column(BigKey)
    #: What the learner worked out, and why, as typed.
    own_answer: Mapped[str] = mapped_column(String(200))
    why: Mapped[str] = mapped_column(String(600))
    sent_at: Mapped[datetime] = mapped_column(UtcDateTime)
    outcome: Mapped[str | None] = mapped_column(String(10))
    reply: Mapped[str] = mapped_column(String(600), default="")
    answered_at: Mapped[datetime | None] = mapped_column(UtcDateTime)
    answered_by_id: Mapped[int | None] = mapped_column(BigKey, ForeignKey("person.id"))


class KeyRuling(Base):
    """What was decided about the key of a family's rules. Only ever added; the latest of the rules holds."""

    __tablename__ = "key_ruling"
    __table_args__ = (
        UniqueConstraint("rules_hash", "sequence"),
        CheckConstraint("sequence >= 1", name="sequence_from_one"),
        CheckConstraint(one_of("remedy", "doubt", "credit", "also", "set-aside", "new-key", "stands"), name="remedy"),
        CheckConstraint("(remedy = 'also') = (length(accepts) > 0)", name="also_accepts"),
        CheckConstraint("length(accepts) <= 400", name="accepts_length"),
        CheckConstraint("length(reason) BETWEEN 1 AND 400", name="reason_length"),
    )

    rules_hash: Mapped[str] = mapped_column(String(64))
    family_id: Mapped[str] = mapped_column(String(80))
    sequence: Mapped[int] = mapped_column(Integer)
    remedy: Mapped[str] = mapped_column(String(10))
    #: For "also": a formula over the problem's numbers, or the id of an option; "" for all else.
    accepts: Mapped[str] = mapped_column(String(400), default="")
    reason: Mapped[str] = mapped_column(String(400))
    ruled_at: Mapped[datetime] = mapped_column(UtcDateTime)
    ruled_by_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))


class ResultMark(Base):
    """Points that a leader set for a line of assigned work and a person. Only ever added; the latest counts."""

    __tablename__ = "result_mark"
    __table_args__ = (
        UniqueConstraint("assigned_family_id", "person_id", "sequence"),
        CheckConstraint("sequence >= 1", name="sequence_from_one"),
        CheckConstraint(one_of("how", "override", "by-hand", "taken-back"), name="how"),
        CheckConstraint("(how = 'taken-back') = (points IS NULL)", name="points_unless_taken_back"),
        CheckConstraint("points >= 0 AND points <= 1", name="points_range"),
        CheckConstraint("length(reason) BETWEEN 1 AND 300", name="reason_length"),
        Index("ix_result_mark_person_id", "person_id"),
    )

    assigned_family_id: Mapped[int] = mapped_column(BigKey, ForeignKey("assigned_family.id"))
    person_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    sequence: Mapped[int] = mapped_column(Integer)
    how: Mapped[str] = mapped_column(String(10))
    points: Mapped[float | None] = mapped_column(Float(53))
    #: The person reads it.
    reason: Mapped[str] = mapped_column(String(300))
    set_at: Mapped[datetime] = mapped_column(UtcDateTime)
    set_by_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
