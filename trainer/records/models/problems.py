"""Issued problems, the answers to them, and the judgement of each answer."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from sqlalchemy import (
    BigInteger,
    Boolean,
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

from trainer.records.models.base import Base, BigKey, Json, one_of
from trainer.records.types import UtcDateTime, new_public_id

__all__ = ["Answer", "Grading", "Problem"]


class Problem(Base):
    """One issued problem: with its content version and numbers it can be shown and graded again for ever."""

    __tablename__ = "problem"
    __table_args__ = (
        UniqueConstraint("public_id"),
        UniqueConstraint("code"),
        UniqueConstraint("id", "person_id"),
        CheckConstraint(
            one_of("context", "practice", "lesson", "proof", "assigned", "placement", "paper"), name="context"
        ),
        CheckConstraint("proof_run_id IS NULL OR context = 'proof'", name="run_is_proof"),
        # A run's problems are those of its person.
        ForeignKeyConstraint(["proof_run_id", "person_id"], ["proof_run.id", "proof_run.person_id"]),
        Index("ix_problem_proof_run_id", "proof_run_id"),
        CheckConstraint("placement_run_id IS NULL OR context = 'placement'", name="run_is_placement"),
        ForeignKeyConstraint(["placement_run_id", "person_id"], ["placement_run.id", "placement_run.person_id"]),
        Index("ix_problem_placement_run_id", "placement_run_id"),
        CheckConstraint("(context = 'assigned') = (assigned_family_id IS NOT NULL)", name="assigned_has_family"),
        CheckConstraint(one_of("edition", "2017", "2020", "2023"), name="edition"),
        CheckConstraint("hints_shown >= 0", name="hints_not_negative"),
        Index("ix_problem_person_id_closed_at", "person_id", "closed_at"),
        Index("ix_problem_assigned_family_id_person_id", "assigned_family_id", "person_id"),
        Index("ix_problem_content_version_id", "content_version_id"),
    )

    public_id: Mapped[str] = mapped_column(String(22), default=new_public_id)
    #: Short code for people: on the page, on paper.
    code: Mapped[str] = mapped_column(String(12))
    person_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    context: Mapped[str] = mapped_column(String(10))
    lesson_id: Mapped[str | None] = mapped_column(String(80))
    assigned_family_id: Mapped[int | None] = mapped_column(BigKey, ForeignKey("assigned_family.id"))
    proof_run_id: Mapped[int | None] = mapped_column(BigKey)
    placement_run_id: Mapped[int | None] = mapped_column(BigKey)
    content_version_id: Mapped[int] = mapped_column(BigKey, ForeignKey("content_version.id"))
    family_id: Mapped[str] = mapped_column(String(80))
    skill: Mapped[str] = mapped_column(String(40))
    seed: Mapped[int] = mapped_column(BigInteger)
    edition: Mapped[str] = mapped_column(String(4))
    basis: Mapped[str] = mapped_column(String(40), default="")
    #: Drawn numbers, accepted keys, mistake values, order of options: `problems.store` and `problems.restore`.
    drawn: Mapped[dict[str, Any]] = mapped_column(Json)
    #: Why the chooser took it, as a message id with parameters, for the page.
    why: Mapped[dict[str, Any] | None] = mapped_column(Json)
    issued_at: Mapped[datetime] = mapped_column(UtcDateTime)
    closed_at: Mapped[datetime | None] = mapped_column(UtcDateTime)
    hints_shown: Mapped[int] = mapped_column(Integer, default=0)
    steps_shown: Mapped[bool] = mapped_column(Boolean(create_constraint=False), default=False)


class Answer(Base):
    """One answer as typed, and what the skill update used. Only ever added."""

    __tablename__ = "answer"
    __table_args__ = (
        UniqueConstraint("person_id", "answer_key"),
        UniqueConstraint("person_id", "sequence"),
        UniqueConstraint("problem_id", "attempt"),
        # Nobody answers another person's problem.
        ForeignKeyConstraint(["problem_id", "person_id"], ["problem.id", "problem.person_id"]),
        CheckConstraint("attempt >= 1", name="attempt_from_one"),
        CheckConstraint("weight >= 0 AND weight <= 1", name="weight_range"),
        CheckConstraint("days >= 0", name="days_not_negative"),
        CheckConstraint("length(typed) <= 400", name="typed_length"),
    )

    problem_id: Mapped[int] = mapped_column(BigKey)
    person_id: Mapped[int] = mapped_column(BigKey)
    #: UUID from the form: the same form sent twice is one answer.
    answer_key: Mapped[str] = mapped_column(String(36))
    #: Which answer of this person, over all problems.
    sequence: Mapped[int] = mapped_column(Integer)
    #: Which try at this problem.
    attempt: Mapped[int] = mapped_column(Integer)
    typed: Mapped[str] = mapped_column(String(400))
    value_read: Mapped[Any | None] = mapped_column(Json)
    hints_seen: Mapped[int] = mapped_column(Integer, default=0)
    steps_seen: Mapped[bool] = mapped_column(Boolean(create_constraint=False), default=False)
    answered_at: Mapped[datetime] = mapped_column(UtcDateTime)
    #: What the update of the skill used, so that a replay finds the same bits.
    difficulty: Mapped[float] = mapped_column(Float(53))
    chance_before: Mapped[float] = mapped_column(Float(53))
    weight: Mapped[float] = mapped_column(Float(53))
    start_level: Mapped[float] = mapped_column(Float(53))
    days: Mapped[float] = mapped_column(Float(53))
    lucky: Mapped[float] = mapped_column(Float(53))
    constants_version: Mapped[int] = mapped_column(Integer)


class Grading(Base):
    """A judgement of an answer. Only ever added; the latest counts."""

    __tablename__ = "grading"
    __table_args__ = (
        UniqueConstraint("answer_id", "sequence"),
        CheckConstraint(
            one_of(
                "verdict",
                "right",
                "rounded-too-far",
                "known-mistake",
                "wrong-unit",
                "wrong",
                "gave-up",
                "credited",
                "not-counted",
            ),
            name="verdict",
        ),
        CheckConstraint("sequence >= 1", name="sequence_from_one"),
    )

    answer_id: Mapped[int] = mapped_column(BigKey, ForeignKey("answer.id"))
    sequence: Mapped[int] = mapped_column(Integer, default=1)
    verdict: Mapped[str] = mapped_column(String(16))
    mistakes: Mapped[list[str]] = mapped_column(Json)
    reason: Mapped[dict[str, Any] | None] = mapped_column(Json)
    basis: Mapped[str] = mapped_column(String(16), default="")
    graded_at: Mapped[datetime] = mapped_column(UtcDateTime)
    #: Who graded by hand; None for the program.
    graded_by_id: Mapped[int | None] = mapped_column(BigKey, ForeignKey("person.id"))
