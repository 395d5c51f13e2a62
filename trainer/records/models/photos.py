"""
Photographs of work, as the site wrote them anew: JPEG, upright, with nothing in it but the picture.

They stand in the database because several hosts may serve one site, a backup then is one thing, and taking one away
happens in the same transaction as all else.
"""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import CheckConstraint, ForeignKey, Index, Integer, LargeBinary, String, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from trainer.records.models.base import Base, BigKey
from trainer.records.types import UtcDateTime, new_public_id

__all__ = ["CheckPhoto", "FindingPhoto"]


class _Picture:
    """What every photograph has, whatever it belongs to."""

    public_id: Mapped[str] = mapped_column(String(22), default=new_public_id)
    image: Mapped[bytes] = mapped_column(LargeBinary)
    #: Pixels.
    width: Mapped[int] = mapped_column(Integer)
    height: Mapped[int] = mapped_column(Integer)
    #: What is seen on it, for who cannot see it.
    shows: Mapped[str] = mapped_column(String(200))
    added_by_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    added_at: Mapped[datetime] = mapped_column(UtcDateTime)


def _bounds() -> tuple[UniqueConstraint | CheckConstraint, ...]:
    """The rules of every table of photographs; a rule belongs to one table, so that each gets its own."""
    return (
        UniqueConstraint("public_id"),
        CheckConstraint("length(image) BETWEEN 1 AND 2000000", name="image_length"),
        CheckConstraint("width BETWEEN 1 AND 1600", name="width_range"),
        CheckConstraint("height BETWEEN 1 AND 1600", name="height_range"),
        CheckConstraint("length(shows) BETWEEN 1 AND 200", name="shows_length"),
    )


class FindingPhoto(_Picture, Base):
    """A photograph of what the job showed."""

    __tablename__ = "finding_photo"
    __table_args__ = (*_bounds(), Index("ix_finding_photo_finding_id", "finding_id"))

    finding_id: Mapped[int] = mapped_column(BigKey, ForeignKey("field_finding.id"))


class CheckPhoto(_Picture, Base):
    """A photograph of a piece that was bent, cut or made up for a hands-on check."""

    __tablename__ = "check_photo"
    __table_args__ = (*_bounds(), Index("ix_check_photo_check_id", "check_id"))

    check_id: Mapped[int] = mapped_column(BigKey, ForeignKey("hands_on_check.id"))
