"""
Photographs of a finding: who reported it adds them, whoever leads the group takes them away.

They are seen by nobody but those who may read the finding: the member, leaders of the group, and leaders of another
group with readiness.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import ColumnElement, delete, func, select
from sqlalchemy.orm import Session

from trainer.accounts.access import LearnerRef, NotAllowedError, NotFoundError, group_led_by, learner_seen_by
from trainer.accounts.actor import Actor
from trainer.accounts.audit import note as note_line
from trainer.accounts.sharing import Shared, shared_with
from trainer.calc.message import Message
from trainer.groups.names import read_line
from trainer.groups.photographs import Photograph
from trainer.progress.field import Finding, findings_about
from trainer.records.locks import locked
from trainer.records.models import FieldFinding, FindingPhoto
from trainer.records.types import is_public_id, new_public_id

__all__ = [
    "LONGEST_SHOWS",
    "MOST_PHOTOS",
    "PhotosPage",
    "add_photo",
    "own_photo",
    "photo_seen_by",
    "photos_page",
    "remove_photo",
]

LONGEST_SHOWS = 200
MOST_PHOTOS = 4
"""Of one finding."""


@dataclass(frozen=True, slots=True)
class PhotosPage:
    """A finding that was reported in a group, about whom, and why the one who asks may add no photograph; None if he may."""

    learner: LearnerRef
    finding: Finding
    why_not: Message | None


def photos_page(
    session: Session, actor: Actor, group_public_id: str, person_public_id: str, finding_public_id: str
) -> PhotosPage:
    """
    A finding with its photographs, for who leads the group in which it was reported.

    Raises:
        NotFoundError: When there is no such finding about this member in the group.
        NotAllowedError: When the one who asks does not lead it.
    """
    learner = learner_seen_by(session, actor, group_public_id, person_public_id, Shared.ASSIGNED)
    found = findings_about(session, learner.person_id, group_id=learner.group.id)
    finding = next((one for one in found if one.public_id == finding_public_id), None)
    if finding is None:
        raise NotFoundError
    why_not = _why_not(actor, finding.reported_by_id, finding.withdrawn_at, len(finding.photos))
    return PhotosPage(learner, finding, why_not)


def add_photo(
    session: Session,
    actor: Actor,
    group_public_id: str,
    finding_public_id: str,
    photograph: Photograph,
    *,
    shows: str,
    now: datetime,
) -> None:
    """
    Add a photograph to a finding that one reported oneself.

    Args:
        session: A write session.
        actor: Who adds it.
        group_public_id: The class or crew.
        finding_public_id: The finding.
        photograph: The picture, as `read_photograph` gives it.
        shows: What is seen on it, as typed; 1 to 200 characters.
        now: This moment.

    Raises:
        NotFoundError: When there is no such finding in the group.
        NotAllowedError: When somebody else reported it, it is withdrawn, or there are as many as a finding takes.
        InputError: With `field` "shows".
    """
    row = _finding(session, actor, group_public_id, finding_public_id)
    count = session.scalars(select(func.count()).where(FindingPhoto.finding_id == row.id)).one()
    why_not = _why_not(actor, row.reported_by_id, row.withdrawn_at, count)
    if why_not:
        raise NotAllowedError(why_not)
    told = read_line(shows, field="shows", example="The offset on the left leans.", longest=LONGEST_SHOWS)
    session.add(
        FindingPhoto(
            public_id=new_public_id(),
            finding_id=row.id,
            image=photograph.image,
            width=photograph.width,
            height=photograph.height,
            shows=told,
            added_by_id=actor.person_id,
            added_at=now,
        )
    )
    _note(session, actor, row, "finding.photo-added", now)


def remove_photo(
    session: Session, actor: Actor, group_public_id: str, finding_public_id: str, photo_public_id: str, *, now: datetime
) -> None:
    """
    Take a photograph away for good; whoever leads the group may.

    Raises:
        NotFoundError: When there is no such photograph of this finding in the group.
        NotAllowedError: When the one who asks does not lead it.
    """
    row = _finding(session, actor, group_public_id, finding_public_id)
    if not is_public_id(photo_public_id):
        raise NotFoundError
    this = delete(FindingPhoto).where(FindingPhoto.public_id == photo_public_id, FindingPhoto.finding_id == row.id)
    if session.scalar(this.returning(FindingPhoto.id)) is None:
        raise NotFoundError
    _note(session, actor, row, "finding.photo-removed", now)


def own_photo(session: Session, actor: Actor, photo_public_id: str) -> bytes:
    """
    A photograph of a finding about the one who asks, as JPEG.

    Raises:
        NotFoundError: When there is none.
    """
    return _image(session, photo_public_id, FieldFinding.person_id == actor.person_id)


def photo_seen_by(
    session: Session, actor: Actor, group_public_id: str, person_public_id: str, photo_public_id: str
) -> bytes:
    """
    A photograph of a finding about a member, as JPEG: of this group's findings, and of others with readiness.

    Raises:
        NotFoundError: When the group is not his to know of, or there is no such photograph to be seen from it.
        NotAllowedError: When the one who asks does not lead the group.
    """
    learner = learner_seen_by(session, actor, group_public_id, person_public_id, Shared.ASSIGNED)
    shares = shared_with(session, learner.person_id, learner.group.id) if learner.is_member else frozenset()
    about = FieldFinding.person_id == learner.person_id
    here = FieldFinding.group_id == learner.group.id
    return _image(session, photo_public_id, about if Shared.READINESS in shares else about & here)


def _why_not(actor: Actor, reported_by_id: int, withdrawn_at: datetime | None, photos: int) -> Message | None:
    """What keeps the actor from adding a photograph to a finding."""
    if reported_by_id != actor.person_id:
        return Message("photo.not-yours")
    if withdrawn_at is not None:
        return Message("field.withdrawn-already")
    return Message("photo.enough", {"most": f"{MOST_PHOTOS}"}) if photos >= MOST_PHOTOS else None


def _finding(session: Session, actor: Actor, group_public_id: str, public_id: str) -> FieldFinding:
    """The finding in a group that the actor leads, locked: two photographs added at once are counted one by one."""
    group = group_led_by(session, actor, group_public_id)
    if not is_public_id(public_id):
        raise NotFoundError
    query = select(FieldFinding).where(FieldFinding.public_id == public_id, FieldFinding.group_id == group.id)
    row = session.scalar(locked(query))
    if row is None:
        raise NotFoundError
    return row


def _image(session: Session, public_id: str, of_whom: ColumnElement[bool]) -> bytes:
    if not is_public_id(public_id):
        raise NotFoundError
    query = select(FindingPhoto.image).join(FieldFinding, FieldFinding.id == FindingPhoto.finding_id)
    found = session.scalar(query.where(FindingPhoto.public_id == public_id, of_whom))
    if found is None:
        raise NotFoundError
    return found


def _note(session: Session, actor: Actor, row: FieldFinding, what: str, now: datetime) -> None:
    note_line(
        session,
        what=what,
        now=now,
        actor_id=actor.person_id,
        subject_id=row.person_id,
        group_id=row.group_id,
        detail={"kind": row.kind, "skill": row.skill},
    )
