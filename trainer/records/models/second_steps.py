"""What proves who somebody is beside the password: codes of an app, codes on paper, an account elsewhere."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import BigInteger, CheckConstraint, ForeignKey, Index, String, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from trainer.records.models.base import Base, BigKey
from trainer.records.types import UtcDateTime

__all__ = ["HalfSignIn", "OutsideAccount", "RecoveryCode", "SecondFactor"]


class SecondFactor(Base):
    """
    An app that shows codes, set up by a person; not in force until a first code was typed.

    The app's secret is not stored: it is worked out from `salt` and the site's key, see `trainer.accounts.codes`.
    """

    __tablename__ = "second_factor"
    __table_args__ = (
        UniqueConstraint("person_id"),
        CheckConstraint("confirmed_at IS NULL OR confirmed_at >= begun_at", name="confirmed_after_begin"),
        CheckConstraint("(confirmed_at IS NULL) = (last_step IS NULL)", name="confirmed_by_a_code"),
    )

    person_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    salt: Mapped[str] = mapped_column(String(43))
    #: Tells whether the site's key is still the one of the set-up.
    key_mark: Mapped[str] = mapped_column(String(16))
    begun_at: Mapped[datetime] = mapped_column(UtcDateTime)
    confirmed_at: Mapped[datetime | None] = mapped_column(UtcDateTime)
    #: The thirty seconds, counted from 1970, of the last code that was taken: none of them or before is taken again.
    last_step: Mapped[int | None] = mapped_column(BigInteger)


class RecoveryCode(Base):
    """A code on paper that stands in once for the app. Its first four signs find it, the rest is hashed like a password."""

    __tablename__ = "recovery_code"
    __table_args__ = (
        UniqueConstraint("person_id", "tag"),
        CheckConstraint("length(tag) = 4", name="tag_length"),
        CheckConstraint("used_at IS NULL OR used_at >= made_at", name="used_after_making"),
    )

    person_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    tag: Mapped[str] = mapped_column(String(4))
    code_hash: Mapped[str] = mapped_column(String(255))
    made_at: Mapped[datetime] = mapped_column(UtcDateTime)
    used_at: Mapped[datetime | None] = mapped_column(UtcDateTime)


class HalfSignIn(Base):
    """
    A browser whose password was right and whose code is still due. It opens nothing; the cookie holds a random token of
    its own, this row its SHA-256.
    """

    __tablename__ = "half_sign_in"
    __table_args__ = (
        UniqueConstraint("token_hash"),
        CheckConstraint("expires_at > created_at", name="expires_after_creation"),
        Index("ix_half_sign_in_person_id", "person_id"),
        Index("ix_half_sign_in_expires_at", "expires_at"),
    )

    token_hash: Mapped[str] = mapped_column(String(64))
    person_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    created_at: Mapped[datetime] = mapped_column(UtcDateTime)
    expires_at: Mapped[datetime] = mapped_column(UtcDateTime)


class OutsideAccount(Base):
    """An account at another site (OpenID Connect) that signs its person in here. Known by issuer and subject, never by a mail address."""

    __tablename__ = "outside_account"
    __table_args__ = (
        UniqueConstraint("issuer", "subject"),
        CheckConstraint("length(issuer) BETWEEN 1 AND 255", name="issuer_length"),
        CheckConstraint("length(subject) BETWEEN 1 AND 255", name="subject_length"),
        Index("ix_outside_account_person_id", "person_id"),
    )

    issuer: Mapped[str] = mapped_column(String(255))
    subject: Mapped[str] = mapped_column(String(255))
    person_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    linked_at: Mapped[datetime] = mapped_column(UtcDateTime)
