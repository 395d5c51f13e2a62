"""
What photographs of findings and of hands-on checks have in common: how many, what has to be said, keeping, taking away.

Who may do what with them, and who sees them, is settled by what they belong to.
"""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import ColumnElement, delete, func, select
from sqlalchemy.orm import Session

from trainer.accounts.access import NotFoundError
from trainer.accounts.actor import Actor
from trainer.calc.message import Message
from trainer.groups.names import read_line
from trainer.groups.photographs import Photograph
from trainer.records.models import CheckPhoto, FieldFinding, FindingPhoto, HandsOnCheck
from trainer.records.types import is_public_id, new_public_id

__all__ = ["LONGEST_SHOWS", "MOST_PHOTOS", "count_photos", "enough", "forget_photo", "image_of", "keep_photo"]

LONGEST_SHOWS = 200
MOST_PHOTOS = 4
"""Of one finding, or of one check."""


def enough(photos: int) -> Message | None:
    """Why there is no room for another photograph; None where there is."""
    return Message("photo.enough", {"most": f"{MOST_PHOTOS}"}) if photos >= MOST_PHOTOS else None


def count_photos(session: Session, of: FieldFinding | HandsOnCheck) -> int:
    """How many photographs a finding or a check has; it is locked, so that two added at once are counted one by one."""
    table, belongs = _belonging(of)
    return session.scalars(select(func.count(table.id)).where(belongs)).one()


def keep_photo(
    session: Session,
    actor: Actor,
    of: FieldFinding | HandsOnCheck,
    photograph: Photograph,
    *,
    shows: str,
    now: datetime,
) -> None:
    """
    Put a photograph beside what it belongs to.

    Raises:
        InputError: With `field` "shows", when that is empty or too long.
    """
    told = read_line(shows, field="shows", example="The offset on the left leans.", longest=LONGEST_SHOWS)
    row = FindingPhoto(finding_id=of.id) if isinstance(of, FieldFinding) else CheckPhoto(check_id=of.id)
    row.public_id = new_public_id()
    row.image, row.width, row.height = photograph.image, photograph.width, photograph.height
    row.shows, row.added_by_id, row.added_at = told, actor.person_id, now
    session.add(row)


def forget_photo(session: Session, of: FieldFinding | HandsOnCheck, photo_public_id: str) -> None:
    """
    Take a photograph away for good.

    Raises:
        NotFoundError: When what it is said to belong to has no such photograph.
    """
    if not is_public_id(photo_public_id):
        raise NotFoundError
    table, belongs = _belonging(of)
    this = delete(table).where(table.public_id == photo_public_id, belongs)
    if session.scalar(this.returning(table.id)) is None:
        raise NotFoundError


def image_of(
    session: Session, table: type[FindingPhoto | CheckPhoto], public_id: str, seen: ColumnElement[bool]
) -> bytes:
    """
    The picture of a photograph, as JPEG.

    Args:
        session: Any session.
        table: Photographs of findings, or of checks.
        public_id: The photograph.
        seen: Which findings or checks are to be seen.

    Raises:
        NotFoundError: When there is no such photograph among them.
    """
    if not is_public_id(public_id):
        raise NotFoundError
    query = select(table.image).where(table.public_id == public_id, seen)
    if issubclass(table, FindingPhoto):
        query = query.join(FieldFinding, FieldFinding.id == FindingPhoto.finding_id)
    else:
        query = query.join(HandsOnCheck, HandsOnCheck.id == CheckPhoto.check_id)
    found = session.scalar(query)
    if found is None:
        raise NotFoundError
    return found


def _belonging(of: FieldFinding | HandsOnCheck) -> tuple[type[FindingPhoto | CheckPhoto], ColumnElement[bool]]:
    if isinstance(of, FieldFinding):
        return FindingPhoto, FindingPhoto.finding_id == of.id
    return CheckPhoto, CheckPhoto.check_id == of.id
