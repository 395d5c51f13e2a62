"""
Photographs of a finding: who reported it adds them, whoever leads the group takes them away.

They are seen by nobody but those who may read the finding: the member, leaders of the group, and leaders of another
group with readiness.
"""

from __future__ import annotations

from datetime import datetime

from msgspec import Struct
from sqlalchemy.orm import Session

from trainer.accounts.access import LearnerRef, NotAllowedError, NotFoundError, learner_seen_by
from trainer.accounts.actor import Actor
from trainer.accounts.sharing import Shared, shared_with
from trainer.calc.message import Message
from trainer.groups.findings import locked_finding, note_finding
from trainer.groups.keeping_photos import count_photos, enough, forget_photo, image_of, keep_photo
from trainer.groups.photographs import Photograph
from trainer.progress.field import Finding, findings_about
from trainer.records.models import FieldFinding, FindingPhoto

__all__ = [
    "PhotosPage",
    "add_photo",
    "own_photo",
    "photo_seen_by",
    "photos_page",
    "remove_photo",
]


class PhotosPage(Struct, frozen=True):
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
    row = locked_finding(session, actor, group_public_id, finding_public_id)
    why_not = _why_not(actor, row.reported_by_id, row.withdrawn_at, count_photos(session, row))
    if why_not:
        raise NotAllowedError(why_not)
    keep_photo(session, actor, row, photograph, shows=shows, now=now)
    note_finding(session, actor, row, "finding.photo-added", now)


def remove_photo(
    session: Session, actor: Actor, group_public_id: str, finding_public_id: str, photo_public_id: str, *, now: datetime
) -> None:
    """
    Take a photograph away for good; whoever leads the group may.

    Raises:
        NotFoundError: When there is no such photograph of this finding in the group.
        NotAllowedError: When the one who asks does not lead it.
    """
    row = locked_finding(session, actor, group_public_id, finding_public_id)
    forget_photo(session, row, photo_public_id)
    note_finding(session, actor, row, "finding.photo-removed", now)


def own_photo(session: Session, actor: Actor, photo_public_id: str) -> bytes:
    """
    A photograph of a finding about the one who asks, as JPEG.

    Raises:
        NotFoundError: When there is none.
    """
    return image_of(session, FindingPhoto, photo_public_id, FieldFinding.person_id == actor.person_id)


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
    return image_of(session, FindingPhoto, photo_public_id, about if Shared.READINESS in shares else about & here)


def _why_not(actor: Actor, reported_by_id: int, withdrawn_at: datetime | None, photos: int) -> Message | None:
    """What keeps the actor from adding a photograph to a finding."""
    if reported_by_id != actor.person_id:
        return Message("photo.not-yours")
    if withdrawn_at is not None:
        return Message("field.withdrawn-already")
    return enough(photos)
