"""Hands-on checks: who may sign them, what was set and measured at the bench, and people's registrations."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any

from sqlalchemy import Boolean, CheckConstraint, Date, ForeignKey, Index, Integer, String, UniqueConstraint, text
from sqlalchemy.orm import Mapped, mapped_column

from trainer.records.models.base import Base, BigKey, Json, one_of
from trainer.records.types import UtcDateTime, new_public_id

__all__ = ["CheckSigning", "CheckWithdrawal", "HandsOnCheck", "Registration", "Signer"]

_OPEN = text("ended_at IS NULL")


class Signer(Base):
    """
    That an owner has named a person to sign one kind of check, on the strength of a licence.

    A row is never changed but to end it. A licence renewed is a new row, so that each signature still points to the
    licence it was given under; only deleting the person blanks the licence.
    """

    __tablename__ = "signer"
    __table_args__ = (
        UniqueConstraint("public_id"),
        CheckConstraint("length(licence) BETWEEN 1 AND 120", name="licence_length"),
        CheckConstraint("ended_at IS NULL OR ended_at >= named_at", name="ends_after_naming"),
        Index("ix_signer_person_id", "person_id"),
        Index(
            "uq_signer_open",
            "organisation_id",
            "person_id",
            "kind",
            unique=True,
            sqlite_where=_OPEN,
        ),
    )

    public_id: Mapped[str] = mapped_column(String(22), default=new_public_id)
    organisation_id: Mapped[int] = mapped_column(BigKey, ForeignKey("organisation.id"))
    person_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    #: Id of the kind of check.
    kind: Mapped[str] = mapped_column(String(40))
    #: The licence or registration as the owner read it off the card.
    licence: Mapped[str] = mapped_column(String(120))
    #: Last day on which it holds, in the organisation's time zone.
    expires_on: Mapped[date] = mapped_column(Date)
    named_by_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    named_at: Mapped[datetime] = mapped_column(UtcDateTime)
    ended_at: Mapped[datetime | None] = mapped_column(UtcDateTime)


class HandsOnCheck(Base):
    """One bench task with one learner's own numbers. What came of it stands in its signings."""

    __tablename__ = "hands_on_check"
    __table_args__ = (
        UniqueConstraint("public_id"),
        CheckConstraint("dropped_at IS NULL OR dropped_at >= issued_at", name="dropped_after_issue"),
        Index("ix_hands_on_check_person_id", "person_id"),
        Index("ix_hands_on_check_group_id", "group_id"),
        Index("ix_hands_on_check_organisation_id_kind", "organisation_id", "kind"),
    )

    public_id: Mapped[str] = mapped_column(String(22), default=new_public_id)
    person_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    organisation_id: Mapped[int] = mapped_column(BigKey, ForeignKey("organisation.id"))
    group_id: Mapped[int] = mapped_column(BigKey, ForeignKey("study_group.id"))
    kind: Mapped[str] = mapped_column(String(40))
    trade_size: Mapped[str] = mapped_column(String(8))
    seed: Mapped[int] = mapped_column(BigKey)
    #: All that the page showed and judged by, limits and words too: a later change of the kind changes no old check.
    sheet: Mapped[dict[str, Any]] = mapped_column(Json)
    issued_by_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    issued_at: Mapped[datetime] = mapped_column(UtcDateTime)
    #: Put aside before anybody signed it.
    dropped_at: Mapped[datetime | None] = mapped_column(UtcDateTime)


class CheckSigning(Base):
    """What one judge saw and measured, and that he signed it. Only ever added; the note goes when the account is deleted."""

    __tablename__ = "check_signing"
    __table_args__ = (
        UniqueConstraint("check_id", "judge"),
        UniqueConstraint("check_id", "signed_by_id"),
        CheckConstraint("judge IN (1, 2)", name="judge"),
        CheckConstraint("length(note) <= 400", name="note_length"),
        Index("ix_check_signing_signer_id", "signer_id"),
    )

    check_id: Mapped[int] = mapped_column(BigKey, ForeignKey("hands_on_check.id"))
    #: 1 for who judged it, 2 for the second judge.
    judge: Mapped[int] = mapped_column(Integer)
    signer_id: Mapped[int] = mapped_column(BigKey, ForeignKey("signer.id"))
    signed_by_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    signed_at: Mapped[datetime] = mapped_column(UtcDateTime)
    #: By id of the value: the text as typed and the number that was read from it.
    measured: Mapped[dict[str, Any]] = mapped_column(Json)
    #: By id of the step: whether it was done so.
    steps: Mapped[dict[str, Any]] = mapped_column(Json)
    passed: Mapped[bool] = mapped_column(Boolean(create_constraint=False))
    note: Mapped[str] = mapped_column(String(400), default="")


class CheckWithdrawal(Base):
    """That a signed check counts no longer, and why. What was signed stays to be read; why goes when the account is deleted."""

    __tablename__ = "check_withdrawal"
    __table_args__ = (
        UniqueConstraint("check_id"),
        CheckConstraint("length(reason) BETWEEN 1 AND 400", name="reason_length"),
    )

    check_id: Mapped[int] = mapped_column(BigKey, ForeignKey("hands_on_check.id"))
    reason: Mapped[str] = mapped_column(String(400))
    withdrawn_by_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    withdrawn_at: Mapped[datetime] = mapped_column(UtcDateTime)


class Registration(Base):
    """A person's registration as an apprentice, or licence, with its last day. Ended, never changed, but by deleting."""

    __tablename__ = "registration"
    __table_args__ = (
        UniqueConstraint("public_id"),
        CheckConstraint(one_of("what", "registration", "licence"), name="what"),
        CheckConstraint("length(words) BETWEEN 1 AND 120", name="words_length"),
        CheckConstraint("ended_at IS NULL OR ended_at >= entered_at", name="ends_after_entry"),
        Index("ix_registration_person_id", "person_id"),
    )

    public_id: Mapped[str] = mapped_column(String(22), default=new_public_id)
    person_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    what: Mapped[str] = mapped_column(String(12))
    #: State, class and number, as they stand on the card.
    words: Mapped[str] = mapped_column(String(120))
    expires_on: Mapped[date] = mapped_column(Date)
    entered_by_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    entered_at: Mapped[datetime] = mapped_column(UtcDateTime)
    ended_at: Mapped[datetime | None] = mapped_column(UtcDateTime)
