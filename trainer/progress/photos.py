"""Photographs that go with a finding or a hands-on check, as everybody reads them who may see what they belong to."""

from __future__ import annotations

from collections.abc import Collection

from msgspec import Struct
from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.records.models import CheckPhoto, FindingPhoto, Person

__all__ = ["Photo", "photos_of_checks", "photos_of_findings"]


class Photo(Struct, frozen=True):
    """A photograph without its picture: its name in addresses, what it shows, who added it, width and height in pixels."""

    public_id: str
    shows: str
    added_by: str
    width: int
    height: int


def photos_of_findings(session: Session, findings: Collection[int]) -> dict[int, tuple[Photo, ...]]:
    """Photographs by the finding's key, the first one first."""
    return _photos(session, FindingPhoto, findings)


def photos_of_checks(session: Session, checks: Collection[int]) -> dict[int, tuple[Photo, ...]]:
    """Photographs by the check's key, the first one first."""
    return _photos(session, CheckPhoto, checks)


def _photos(
    session: Session, table: type[FindingPhoto | CheckPhoto], owners: Collection[int]
) -> dict[int, tuple[Photo, ...]]:
    owner = FindingPhoto.finding_id if issubclass(table, FindingPhoto) else CheckPhoto.check_id
    query = (
        select(owner, table.public_id, table.shows, Person.display_name, table.width, table.height)
        .join(Person, Person.id == table.added_by_id)
        .where(owner.in_(owners))
        .order_by(table.id)
    )
    found: dict[int, tuple[Photo, ...]] = {}
    for belongs_to, public_id, shows, by, width, height in session.execute(query) if owners else ():
        found[belongs_to] = (*found.get(belongs_to, ()), Photo(public_id, shows, by, width, height))
    return found
