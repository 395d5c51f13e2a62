"""Proof runs: the questions that decide whether a skill counts as ready."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from sqlalchemy import Boolean, CheckConstraint, Float, ForeignKey, Index, Integer, String, UniqueConstraint, text
from sqlalchemy.orm import Mapped, mapped_column

from trainer.records.models.base import Base, BigKey, Json, one_of
from trainer.records.types import UtcDateTime, new_public_id

__all__ = ["ProofRun", "ProofSitting"]

_OPEN = text("ended_at IS NULL")


class ProofRun(Base):
    """One person's run in one skill, from its beginning to its decision. Its answers are those to its problems."""

    __tablename__ = "proof_run"
    __table_args__ = (
        UniqueConstraint("public_id"),
        UniqueConstraint("id", "person_id"),
        CheckConstraint(one_of("line", "strict", "light"), name="line"),
        CheckConstraint(one_of("outcome", "ready", "not-yet", "abandoned", "empty"), name="outcome"),
        CheckConstraint("(outcome IS NULL) = (ended_at IS NULL)", name="ends_with_outcome"),
        CheckConstraint("ended_at IS NULL OR ended_at >= started_at", name="ends_after_start"),
        CheckConstraint("ready_at > 0", name="ready_at_positive"),
        CheckConstraint("counted >= 0", name="counted_not_negative"),
        Index("ix_proof_run_skill_person_id", "skill", "person_id"),
        Index(
            "uq_proof_run_open",
            "person_id",
            "skill",
            unique=True,
            sqlite_where=_OPEN,
        ),
    )

    public_id: Mapped[str] = mapped_column(String(22), default=new_public_id)
    person_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    skill: Mapped[str] = mapped_column(String(40))
    #: How strict "ready" is meant, and the points that decide: `progress.points`.
    line: Mapped[str] = mapped_column(String(8))
    ready_at: Mapped[float] = mapped_column(Float(53))
    #: Whether the person was found ready before and shows it again.
    refreshes: Mapped[bool] = mapped_column(Boolean(create_constraint=False), default=False)
    #: Difficulty of each family of the skill as the run began [logit], by family id; it stays so until the run ends.
    difficulties: Mapped[dict[str, Any]] = mapped_column(Json)
    #: Sum over the counted answers; never rounded.
    points: Mapped[float] = mapped_column(Float(53), default=0.0)
    counted: Mapped[int] = mapped_column(Integer, default=0)
    started_at: Mapped[datetime] = mapped_column(UtcDateTime)
    ended_at: Mapped[datetime | None] = mapped_column(UtcDateTime)
    outcome: Mapped[str | None] = mapped_column(String(10))
    #: Who opened it beside the person, and so made it a watched one to its end; None where nobody watches.
    watched_by_id: Mapped[int | None] = mapped_column(BigKey, ForeignKey("person.id"))


class ProofSitting(Base):
    """That somebody sat beside a person at a watched run. Its questions are asked and answered only meanwhile."""

    __tablename__ = "proof_sitting"
    __table_args__ = (
        CheckConstraint("ends_at > opened_at", name="ends_after_opening"),
        CheckConstraint("ended_at IS NULL OR ended_at >= opened_at", name="ended_after_opening"),
        Index("ix_proof_sitting_run_id", "run_id"),
        Index("uq_proof_sitting_open", "run_id", unique=True, sqlite_where=_OPEN),
    )

    run_id: Mapped[int] = mapped_column(BigKey, ForeignKey("proof_run.id"))
    watcher_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    #: The class or crew as whose leader.
    group_id: Mapped[int] = mapped_column(BigKey, ForeignKey("study_group.id"))
    opened_at: Mapped[datetime] = mapped_column(UtcDateTime)
    #: Nobody is taken to sit there for longer.
    ends_at: Mapped[datetime] = mapped_column(UtcDateTime)
    #: When the watcher left before that, or another sitting began; None until then.
    ended_at: Mapped[datetime | None] = mapped_column(UtcDateTime)
