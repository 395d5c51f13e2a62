"""Bender shoes that a shop has measured."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import CheckConstraint, Float, ForeignKey, Index, String, UniqueConstraint, text
from sqlalchemy.orm import Mapped, mapped_column

from trainer.records.models.base import Base, BigKey, one_of
from trainer.records.types import UtcDateTime, new_public_id

__all__ = ["ShopShoe"]

STILL_USED = text("ended_at IS NULL")


class ShopShoe(Base):
    """
    One shoe as it was measured. Inches.

    A row is never changed but to end it: measured again it is a new row, so that an address with the old one in it
    still shows the marks that it showed.
    """

    __tablename__ = "shoe"
    __table_args__ = (
        UniqueConstraint("public_id"),
        CheckConstraint("length(name) BETWEEN 1 AND 60", name="name_length"),
        CheckConstraint(one_of("trade_size", "1/2", "3/4", "1", "1-1/4"), name="trade_size"),
        CheckConstraint("take_up > 0", name="take_up_positive"),
        CheckConstraint("outside_gain > 0", name="outside_gain_positive"),
        CheckConstraint("radius > 0", name="radius_positive"),
        CheckConstraint("back_mark > 0", name="back_mark_positive"),
        CheckConstraint("ended_at IS NULL OR ended_at >= measured_at", name="ends_after_measuring"),
        Index("ix_shoe_organisation_id", "organisation_id"),
        Index(
            "uq_shoe_used_name",
            "organisation_id",
            "name",
            unique=True,
            sqlite_where=STILL_USED,
        ),
    )

    public_id: Mapped[str] = mapped_column(String(22), default=new_public_id)
    organisation_id: Mapped[int] = mapped_column(BigKey, ForeignKey("organisation.id"))
    #: How the people of the shop tell it from the others.
    name: Mapped[str] = mapped_column(String(60))
    trade_size: Mapped[str] = mapped_column(String(8))
    take_up: Mapped[float] = mapped_column(Float(53))
    outside_gain: Mapped[float] = mapped_column(Float(53))
    radius: Mapped[float] = mapped_column(Float(53))
    #: From the take-up mark to the back-of-bend mark.
    back_mark: Mapped[float] = mapped_column(Float(53))
    measured_by_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    measured_at: Mapped[datetime] = mapped_column(UtcDateTime)
    ended_at: Mapped[datetime | None] = mapped_column(UtcDateTime)
