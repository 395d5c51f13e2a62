"""Where people stand, and what their answers have taught about the families."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import BigInteger, CheckConstraint, Float, ForeignKey, Index, Integer, String, UniqueConstraint, text
from sqlalchemy.orm import Mapped, mapped_column

from trainer.records.models.base import Base, BigKey, Json, one_of
from trainer.records.types import UtcDateTime

__all__ = ["FamilyDifficulty", "LessonReading", "MistakeHistory", "QuestionCount", "SkillState"]


class SkillState(Base):
    """Where a person stands on a skill: a fold over the gradings, kept so that one answer costs one update."""

    __tablename__ = "skill_state"
    __table_args__ = (
        UniqueConstraint("person_id", "skill"),
        CheckConstraint("variance > 0", name="variance_positive"),
        CheckConstraint("holding_days > 0", name="holding_positive"),
        CheckConstraint("counted >= 0", name="counted_not_negative"),
        CheckConstraint("lapsed_at <= last_at", name="lapsed_by_last"),
    )

    person_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    skill: Mapped[str] = mapped_column(String(40))
    level: Mapped[float] = mapped_column(Float(53))
    variance: Mapped[float] = mapped_column(Float(53))
    holding_days: Mapped[float] = mapped_column(Float(53))
    counted: Mapped[int] = mapped_column(Integer)
    last_at: Mapped[datetime | None] = mapped_column(UtcDateTime)
    #: The last moment by then at which what a proof run had shown held no more; only a run that ends later counts.
    lapsed_at: Mapped[datetime | None] = mapped_column(UtcDateTime)
    #: For the chooser: `problems_issued` of the person when this skill had its last turn; the families of its last turns.
    last_turn: Mapped[int] = mapped_column(Integer, default=0)
    recent_families: Mapped[list[str]] = mapped_column(Json, default=list)


class FamilyDifficulty(Base):
    """Difficulty of a family's rules, learned from first tries; centred within the skill when it is read."""

    __tablename__ = "family_difficulty"
    __table_args__ = (
        UniqueConstraint("rules_hash"),
        CheckConstraint("difficulty BETWEEN -3 AND 3", name="difficulty_range"),
        Index("ix_family_difficulty_skill", "skill"),
    )

    rules_hash: Mapped[str] = mapped_column(String(64))
    family_id: Mapped[str] = mapped_column(String(80))
    skill: Mapped[str] = mapped_column(String(40))
    difficulty: Mapped[float] = mapped_column(Float(53), default=0.0)
    counted: Mapped[int] = mapped_column(Integer, default=0)
    #: Whether its key is in doubt: `trainer.progress.alarm`.
    alarm: Mapped[float] = mapped_column(Float(53), default=0.0, server_default=text("0"))
    alarmed_at: Mapped[datetime | None] = mapped_column(UtcDateTime)


class QuestionCount(Base):
    """
    What was counted of the first tries of all real people at a question: `trainer.progress.question_counts`.

    A question with a row "uncounted" was answered before there were counts; until it is counted, only its answers tell.
    """

    __tablename__ = "question_count"
    __table_args__ = (
        UniqueConstraint("rules_hash", "what", "name", "value"),
        CheckConstraint(
            one_of(
                "what",
                "uncounted",
                "tries",
                "people",
                "answered",
                "wrong",
                "sum",
                "mistake",
                "choice",
                "number",
                "word",
                "route",
            ),
            name="what",
        ),
        CheckConstraint("what = 'sum' OR counted >= hits AND hits >= 0", name="no_more_hits_than_counted"),
        # For the ways to a wrong answer that most people went, of which there may be very many.
        Index("ix_question_count_rules_hash_what_counted", "rules_hash", "what", "counted"),
    )

    rules_hash: Mapped[str] = mapped_column(String(64))
    what: Mapped[str] = mapped_column(String(9))
    name: Mapped[str] = mapped_column(String(80), default="")
    value: Mapped[str] = mapped_column(String(400), default="")
    counted: Mapped[int] = mapped_column(BigInteger, default=0)
    hits: Mapped[int] = mapped_column(BigInteger, default=0)


class MistakeHistory(Base):
    """A person's last six problems that could have shown a known mistake, as bits (newest lowest)."""

    __tablename__ = "mistake_history"
    __table_args__ = (
        UniqueConstraint("person_id", "family_id", "mistake_id"),
        CheckConstraint("bits BETWEEN 0 AND 63", name="six_bits"),
        CheckConstraint("seen BETWEEN 0 AND 6", name="seen_up_to_six"),
    )

    person_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    skill: Mapped[str] = mapped_column(String(40))
    family_id: Mapped[str] = mapped_column(String(80))
    mistake_id: Mapped[str] = mapped_column(String(80))
    bits: Mapped[int] = mapped_column(Integer, default=0)
    seen: Mapped[int] = mapped_column(Integer, default=0)
    #: Times of the last two problems answered right that could have shown it; both set on two days clears it.
    right_at: Mapped[datetime | None] = mapped_column(UtcDateTime)
    right_before_at: Mapped[datetime | None] = mapped_column(UtcDateTime)


class LessonReading(Base):
    """That a person has read a lesson to its end, and when last."""

    __tablename__ = "lesson_reading"
    __table_args__ = (UniqueConstraint("person_id", "lesson_id"),)

    person_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    lesson_id: Mapped[str] = mapped_column(String(80))
    read_at: Mapped[datetime] = mapped_column(UtcDateTime)
