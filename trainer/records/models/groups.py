"""Classes and crews, who belongs to them, and what each person shows them."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import (
    Boolean,
    CheckConstraint,
    ForeignKey,
    ForeignKeyConstraint,
    Index,
    String,
    UniqueConstraint,
    false,
    text,
)
from sqlalchemy.orm import Mapped, mapped_column

from trainer.records.models.base import Base, BigKey, one_of
from trainer.records.types import UtcDateTime, new_public_id

__all__ = ["Group", "Membership", "Share"]


class Group(Base):
    """A class of a school or a crew of a shop."""

    __tablename__ = "study_group"
    __table_args__ = (
        UniqueConstraint("public_id"),
        UniqueConstraint("join_code"),
        UniqueConstraint("id", "organisation_id"),
        CheckConstraint(one_of("kind", "class", "crew"), name="kind"),
        CheckConstraint("length(name) BETWEEN 1 AND 120", name="name_length"),
        CheckConstraint("NOT is_sample OR join_code IS NULL", name="sample_cannot_be_joined"),
        CheckConstraint("archived_at IS NULL OR join_code IS NULL", name="archived_cannot_be_joined"),
        Index("ix_study_group_organisation_id", "organisation_id"),
    )

    public_id: Mapped[str] = mapped_column(String(22), default=new_public_id)
    organisation_id: Mapped[int] = mapped_column(BigKey, ForeignKey("organisation.id"))
    kind: Mapped[str] = mapped_column(String(8))
    name: Mapped[str] = mapped_column(String(120))
    #: None while joining is closed.
    join_code: Mapped[str | None] = mapped_column(String(12))
    created_at: Mapped[datetime] = mapped_column(UtcDateTime)
    archived_at: Mapped[datetime | None] = mapped_column(UtcDateTime)
    #: To look around in: everybody who learns in it is invented. It cannot be joined.
    is_sample: Mapped[bool] = mapped_column(Boolean(create_constraint=False), default=False, server_default=false())


class Membership(Base):
    """
    A person's role in a group, or in a whole organisation (`group_id` None), for a time.

    An owner's membership is of the organisation. An instructor or foreman has one of the organisation, which
    allows to make groups, and one of each group that he or she leads.
    """

    __tablename__ = "membership"
    __table_args__ = (
        CheckConstraint(one_of("role", "learner", "instructor", "foreman", "owner"), name="role"),
        CheckConstraint("role <> 'learner' OR group_id IS NOT NULL", name="learner_has_group"),
        CheckConstraint("role <> 'owner' OR group_id IS NULL", name="owner_of_organisation"),
        CheckConstraint("ended_at IS NULL OR ended_at >= started_at", name="ends_after_start"),
        CheckConstraint("told_at IS NULL OR added_by_id IS NOT NULL", name="told_when_added"),
        CheckConstraint("length(roster_name) BETWEEN 1 AND 80", name="roster_name_length"),
        CheckConstraint("length(roster_number) BETWEEN 1 AND 40", name="roster_number_length"),
        Index("ix_membership_person_id", "person_id"),
        Index("ix_membership_group_id", "group_id"),
        Index("ix_membership_organisation_id", "organisation_id"),
        Index(
            "uq_membership_open_in_group",
            "person_id",
            "group_id",
            "role",
            unique=True,
            sqlite_where=text("ended_at IS NULL AND group_id IS NOT NULL"),
        ),
        Index(
            "uq_membership_open_in_organisation",
            "person_id",
            "organisation_id",
            "role",
            unique=True,
            sqlite_where=text("ended_at IS NULL AND group_id IS NULL"),
        ),
        # A group's members belong to the group's own organisation.
        ForeignKeyConstraint(["group_id", "organisation_id"], ["study_group.id", "study_group.organisation_id"]),
    )

    person_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    organisation_id: Mapped[int] = mapped_column(BigKey, ForeignKey("organisation.id"))
    group_id: Mapped[int | None] = mapped_column(BigKey)
    role: Mapped[str] = mapped_column(String(12))
    started_at: Mapped[datetime] = mapped_column(UtcDateTime)
    ended_at: Mapped[datetime | None] = mapped_column(UtcDateTime)
    #: Who put the person in; None for who joined by code. Such a person is told what the group sees before all else.
    added_by_id: Mapped[int | None] = mapped_column(BigKey, ForeignKey("person.id"))
    told_at: Mapped[datetime | None] = mapped_column(UtcDateTime)
    #: How the class list names the person, so that the same list again adds nobody twice; gone once the person is deleted.
    roster_name: Mapped[str | None] = mapped_column(String(80))
    roster_number: Mapped[str | None] = mapped_column(String(40))


class Share(Base):
    """What a person lets the leaders of a group see, for a time."""

    __tablename__ = "share"
    __table_args__ = (
        CheckConstraint(one_of("what", "assigned", "readiness", "practice"), name="what"),
        CheckConstraint("ended_at IS NULL OR ended_at >= started_at", name="ends_after_start"),
        Index("ix_share_group_id", "group_id"),
        Index(
            "uq_share_open",
            "person_id",
            "group_id",
            "what",
            unique=True,
            sqlite_where=text("ended_at IS NULL"),
        ),
    )

    person_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    group_id: Mapped[int] = mapped_column(BigKey, ForeignKey("study_group.id"))
    what: Mapped[str] = mapped_column(String(12))
    started_at: Mapped[datetime] = mapped_column(UtcDateTime)
    ended_at: Mapped[datetime | None] = mapped_column(UtcDateTime)
