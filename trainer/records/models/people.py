"""People, their signed-in browsers, and what slows guessing."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import (
    Boolean,
    CheckConstraint,
    Float,
    ForeignKey,
    Index,
    Integer,
    String,
    UniqueConstraint,
    false,
    text,
)
from sqlalchemy.orm import Mapped, mapped_column

from trainer.records.models.base import Base, BigKey, one_of
from trainer.records.types import UtcDateTime, new_public_id

__all__ = ["CalendarFeed", "Organisation", "Person", "SignInSession", "Site", "SiteKey", "Throttle"]


class Site(Base):
    """The one row that describes this site."""

    __tablename__ = "site"
    __table_args__ = (
        CheckConstraint("id = 1", name="only_one"),
        CheckConstraint(one_of("edition", "2017", "2020", "2023"), name="edition"),
    )

    edition: Mapped[str] = mapped_column(String(4), default="2023")
    is_demo: Mapped[bool] = mapped_column(Boolean(create_constraint=False), default=False)
    created_at: Mapped[datetime] = mapped_column(UtcDateTime)


class SiteKey(Base):
    """By which the hosts of a site tell that they sign with one and the same key; the key itself stands nowhere here."""

    __tablename__ = "site_key"
    __table_args__ = (
        CheckConstraint("id = 1", name="only_one"),
        CheckConstraint("length(digest) = 64", name="digest_length"),
    )

    digest: Mapped[str] = mapped_column(String(64))
    since: Mapped[datetime] = mapped_column(UtcDateTime)


class Organisation(Base):
    """A school or a shop."""

    __tablename__ = "organisation"
    __table_args__ = (
        CheckConstraint(one_of("kind", "school", "shop"), name="kind"),
        CheckConstraint("length(name) BETWEEN 1 AND 120", name="name_length"),
        CheckConstraint(one_of("basis", "sharp-corner", "handbook", "arc"), name="basis"),
        UniqueConstraint("public_id"),
    )

    public_id: Mapped[str] = mapped_column(String(22), default=new_public_id)
    name: Mapped[str] = mapped_column(String(120))
    kind: Mapped[str] = mapped_column(String(8))
    time_zone: Mapped[str] = mapped_column(String(64), default="UTC")
    basis: Mapped[str] = mapped_column(String(16), default="handbook")
    #: Ids of the local rules that hold here, with a space between them.
    local_rules: Mapped[str] = mapped_column(String(400), default="", server_default=text("''"))
    #: Roles whose people have to set up a second factor, with a space between them.
    second_factor_for: Mapped[str] = mapped_column(String(40), default="", server_default=text("''"))
    created_at: Mapped[datetime] = mapped_column(UtcDateTime)


class Person(Base):
    """Someone who signs in. Deleting strips the identity and keeps the row."""

    __tablename__ = "person"
    __table_args__ = (
        UniqueConstraint("public_id"),
        UniqueConstraint("sign_in_name"),
        CheckConstraint("sign_in_name = lower(sign_in_name)", name="sign_in_name_lower"),
        CheckConstraint("(sign_in_name IS NULL) = (deleted_at IS NOT NULL)", name="named_until_deleted"),
        CheckConstraint(
            "deleted_at IS NULL OR (password_hash IS NULL AND NOT is_site_administrator)", name="deleted_cannot_sign_in"
        ),
        CheckConstraint("problems_issued >= 0", name="problems_issued_not_negative"),
        CheckConstraint("answers_given >= 0", name="answers_given_not_negative"),
        CheckConstraint("rebuilt >= 0", name="rebuilt_not_negative"),
        CheckConstraint("length(sign_in_name) BETWEEN 3 AND 40", name="sign_in_name_length"),
        CheckConstraint("length(display_name) BETWEEN 1 AND 80", name="display_name_length"),
    )

    public_id: Mapped[str] = mapped_column(String(22), default=new_public_id)
    #: As `trainer.accounts.names` writes it; None once the person is deleted.
    sign_in_name: Mapped[str | None] = mapped_column(String(40))
    display_name: Mapped[str] = mapped_column(String(80))
    password_hash: Mapped[str | None] = mapped_column(String(255))
    must_change_password: Mapped[bool] = mapped_column(Boolean(create_constraint=False), default=False)
    is_site_administrator: Mapped[bool] = mapped_column(Boolean(create_constraint=False), default=False)
    created_at: Mapped[datetime] = mapped_column(UtcDateTime)
    deleted_at: Mapped[datetime | None] = mapped_column(UtcDateTime)
    #: Counts this person's issued problems; with the person it gives each problem its seed.
    problems_issued: Mapped[int] = mapped_column(Integer, default=0)
    #: Counts this person's graded answers; orders the replay.
    answers_given: Mapped[int] = mapped_column(Integer, default=0)
    #: Made up for a sample class: teaches the families nothing, and is removed with the class, rows and all.
    is_invented: Mapped[bool] = mapped_column(Boolean(create_constraint=False), default=False, server_default=false())
    #: Counts how often the record was rebuilt from the answers, so that what was worked out from it is worked out again.
    rebuilt: Mapped[int] = mapped_column(Integer, default=0, server_default=text("0"))


class SignInSession(Base):
    """One signed-in browser. The cookie holds a random token, this row its SHA-256."""

    __tablename__ = "sign_in_session"
    __table_args__ = (
        UniqueConstraint("public_id"),
        UniqueConstraint("token_hash"),
        CheckConstraint("expires_at > created_at", name="expires_after_creation"),
        Index("ix_sign_in_session_person_id", "person_id"),
        Index("ix_sign_in_session_expires_at", "expires_at"),
    )

    #: Names the session in the list that its person sees; says nothing about the token.
    public_id: Mapped[str] = mapped_column(String(22), default=new_public_id)
    token_hash: Mapped[str] = mapped_column(String(64))
    person_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id", ondelete="CASCADE"))
    created_at: Mapped[datetime] = mapped_column(UtcDateTime)
    last_seen_at: Mapped[datetime] = mapped_column(UtcDateTime)
    #: When the person last showed who it is, after signing in; None when that was the sign-in itself.
    proved_at: Mapped[datetime | None] = mapped_column(UtcDateTime)
    expires_at: Mapped[datetime] = mapped_column(UtcDateTime)
    revoked_at: Mapped[datetime | None] = mapped_column(UtcDateTime)
    device: Mapped[str] = mapped_column(String(120), default="")


class CalendarFeed(Base):
    """
    An address at which a calendar program fetches a person's due dates. The address holds a random token, this row its
    SHA-256; a new address ends the one before.
    """

    __tablename__ = "calendar_feed"
    __table_args__ = (
        UniqueConstraint("token_hash"),
        CheckConstraint("ended_at IS NULL OR ended_at >= made_at", name="ends_after_making"),
        Index(
            "uq_calendar_feed_open",
            "person_id",
            unique=True,
            sqlite_where=text("ended_at IS NULL"),
        ),
    )

    person_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    token_hash: Mapped[str] = mapped_column(String(64))
    made_at: Mapped[datetime] = mapped_column(UtcDateTime)
    ended_at: Mapped[datetime | None] = mapped_column(UtcDateTime)


class Throttle(Base):
    """
    How full one bucket of failed attempts is: see `trainer.accounts.throttle`.

    `subject` is a SHA-256, so that the table lists neither names nor addresses. A row that has leaked empty is removed
    by the next write.
    """

    __tablename__ = "throttle"
    __table_args__ = (
        UniqueConstraint("kind", "subject"),
        CheckConstraint("level >= 0", name="level_not_negative"),
        CheckConstraint("expires_at >= updated_at", name="expires_after_update"),
        Index("ix_throttle_expires_at", "expires_at"),
    )

    kind: Mapped[str] = mapped_column(String(20))
    subject: Mapped[str] = mapped_column(String(64))
    #: Failures not yet leaked away, at `updated_at`.
    level: Mapped[float] = mapped_column(Float(53))
    updated_at: Mapped[datetime] = mapped_column(UtcDateTime)
    expires_at: Mapped[datetime] = mapped_column(UtcDateTime)
