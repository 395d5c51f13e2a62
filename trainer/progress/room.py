"""
Work in the room while it lasts: each problem takes one answer, and hints, key and steps wait until it is ended.

It ends for all when its leader ends it, at the latest with its day; for whom more time was given, when that is over.
"""

from __future__ import annotations

from datetime import datetime
from typing import Any

from sqlalchemy import BindParameter, ScalarSelect, select
from sqlalchemy.orm import InstrumentedAttribute

from trainer.accounts.access import NotAllowedError
from trainer.calc.message import Message
from trainer.records import models

__all__ = ["in_the_room", "more_time_until", "refuse_help_in_the_room"]


def in_the_room(ends: datetime | None, now: datetime) -> bool:
    """Whether work in the room is under way that ends then for its learner; None is no such work."""
    return ends is not None and now < ends


def refuse_help_in_the_room(ends: datetime | None, now: datetime) -> None:
    """
    No hints and no steps while the work lasts.

    Args:
        ends: When it ends for its learner; None for a problem that is no such work.
        now: This moment.

    Raises:
        NotAllowedError: When that is so.
    """
    if in_the_room(ends, now):
        raise NotAllowedError(Message("work.no-help"))


def more_time_until(
    work_id: InstrumentedAttribute[int], person_id: InstrumentedAttribute[int] | BindParameter[Any] | int
) -> ScalarSelect[datetime]:
    """Until when a person has more time at the work of the query around, as a column of it; the latest row counts."""
    table = models.WorkExtension
    return (
        select(table.ends_at)
        .where(table.assigned_work_id == work_id, table.person_id == person_id)
        .order_by(table.id.desc())
        .limit(1)
        .scalar_subquery()
    )
