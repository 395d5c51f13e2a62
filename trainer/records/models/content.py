"""Content as it was used, and work given to a group."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import BigInteger, CheckConstraint, ForeignKey, Index, Integer, String, Text, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from trainer.records.models.base import Base, BigKey, one_of
from trainer.records.types import UtcDateTime, new_public_id

__all__ = ["AssignedFamily", "AssignedWork", "ContentVersion"]


class ContentVersion(Base):
    """A problem family or lesson as it stood when it was first used. `rules_hash` carries statistics, `words_hash` not."""

    __tablename__ = "content_version"
    __table_args__ = (
        UniqueConstraint("kind", "rules_hash", "words_hash"),
        CheckConstraint(one_of("kind", "family", "lesson"), name="kind"),
        Index("ix_content_version_content_id", "content_id"),
    )

    kind: Mapped[str] = mapped_column(String(8))
    content_id: Mapped[str] = mapped_column(String(80))
    organisation_id: Mapped[int | None] = mapped_column(BigKey, ForeignKey("organisation.id"))
    rules_hash: Mapped[str] = mapped_column(String(64))
    words_hash: Mapped[str] = mapped_column(String(64))
    body: Mapped[str] = mapped_column(Text)
    first_used_at: Mapped[datetime] = mapped_column(UtcDateTime)


class AssignedWork(Base):
    """
    A list of problem families given to a group, with a date.

    What is given is on its own: a problem set that it was given from may change or go, and nothing changes here.
    """

    __tablename__ = "assigned_work"
    __table_args__ = (
        UniqueConstraint("public_id"),
        UniqueConstraint("given_by_id", "form_key"),
        CheckConstraint(one_of("kind", "room", "home", "paper"), name="kind"),
        CheckConstraint("length(title) BETWEEN 1 AND 120", name="title_length"),
        CheckConstraint("opened_at IS NULL OR kind = 'room'", name="only_a_room_opens"),
        CheckConstraint("shared_seed IS NULL OR shared_seed >= 0", name="shared_seed_not_negative"),
        Index("ix_assigned_work_group_id", "group_id"),
    )

    public_id: Mapped[str] = mapped_column(String(22), default=new_public_id)
    group_id: Mapped[int] = mapped_column(BigKey, ForeignKey("study_group.id"))
    given_by_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    kind: Mapped[str] = mapped_column(String(8), default="home")
    title: Mapped[str] = mapped_column(String(120))
    edition: Mapped[str] = mapped_column(String(4))
    #: Of work in the room: the end of its day, and once its leader has ended it, that moment.
    due_at: Mapped[datetime] = mapped_column(UtcDateTime)
    #: When the leader opened it in the room; None before that, and at home and on paper.
    opened_at: Mapped[datetime | None] = mapped_column(UtcDateTime)
    #: From which the numbers come, the same for all; None where each learner gets other numbers.
    shared_seed: Mapped[int | None] = mapped_column(BigInteger)
    #: The set that it was given from, if it was given from one.
    problem_set_id: Mapped[int | None] = mapped_column(BigKey, ForeignKey("problem_set.id"))
    created_at: Mapped[datetime] = mapped_column(UtcDateTime)
    withdrawn_at: Mapped[datetime | None] = mapped_column(UtcDateTime)
    #: Of the form that it was given by: sent twice, it gives the work once. None where no form gave it.
    form_key: Mapped[str | None] = mapped_column(String(36))


class AssignedFamily(Base):
    """One line of assigned work: a family, pinned to the version it had when it was given."""

    __tablename__ = "assigned_family"
    __table_args__ = (
        UniqueConstraint("assigned_work_id", "position"),
        CheckConstraint("position >= 1", name="position_from_one"),
    )

    assigned_work_id: Mapped[int] = mapped_column(BigKey, ForeignKey("assigned_work.id"))
    position: Mapped[int] = mapped_column(Integer)
    content_version_id: Mapped[int] = mapped_column(BigKey, ForeignKey("content_version.id"))
