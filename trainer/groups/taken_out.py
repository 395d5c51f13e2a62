"""A group's record as plain rows, for its leaders to take out: only of members who share where they stand, and noted."""

from __future__ import annotations

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.accounts.access import GroupRef
from trainer.accounts.actor import Actor
from trainer.groups.board import board
from trainer.groups.looks import note_looks
from trainer.library.shelf import Library
from trainer.progress.taken_out import SKILL_COLUMNS, Row, skill_cells
from trainer.records.models import Person

__all__ = ["EXPORTED", "GROUP_COLUMNS", "group_rows"]

EXPORTED = "exported.readiness"
GROUP_COLUMNS = ("Name", *SKILL_COLUMNS)


def group_rows(
    session: Session, library: Library, actor: Actor, group_public_id: str, *, now: datetime, zone: ZoneInfo
) -> tuple[GroupRef, list[Row]]:
    """
    The skills of the members who share readiness, by name; slips only of those who share practice too.

    Each time it is noted for every member in it, whatever was noted before.

    Args:
        session: A write session.
        library: The content.
        actor: Who asks.
        group_public_id: The group.
        now: This moment.
        zone: In which moments are written.

    Raises:
        NotFoundError: When the group is not his to know of.
        NotAllowedError: When he does not lead it.
    """
    found = board(session, library, actor, group_public_id, now)
    sharing = [member for member in found.members if member.skills is not None]
    people = session.scalars(select(Person.id).where(Person.public_id.in_([member.person for member in sharing])))
    note_looks(session, actor, found.group.id, list(people), what=EXPORTED, now=now, again_after=timedelta())
    return found.group, [
        (member.display_name, *skill_cells(line, zone))
        for member in sharing
        for line in member.skills or ()
        if line.counted
    ]
