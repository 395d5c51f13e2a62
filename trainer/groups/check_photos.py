"""
Photographs of hands-on checks: the piece, with the tape on it, beside what was measured and signed.

    add one, take one away     who leads the check's group; never the learner; none on a check that counts no longer
    see them                   who leads the group, also after the learner has left; the learner
"""

from __future__ import annotations

from datetime import datetime

from sqlalchemy.orm import Session

from trainer.accounts.access import GroupRef, NotAllowedError, group_led_by
from trainer.accounts.actor import Actor
from trainer.calc.message import Message
from trainer.groups.hands_on import locked_check, one_check
from trainer.groups.keeping_photos import count_photos, enough, forget_photo, image_of, keep_photo
from trainer.groups.photographs import Photograph
from trainer.groups.signing import note_check
from trainer.progress.hands_on import Check
from trainer.records.models import CheckPhoto, HandsOnCheck

__all__ = ["add_photo", "own_photo", "photo_seen_by", "remove_photo", "why_no_photo"]


def add_photo(
    session: Session,
    actor: Actor,
    group_public_id: str,
    check_public_id: str,
    photograph: Photograph,
    *,
    shows: str,
    now: datetime,
) -> None:
    """
    Add a photograph to a check.

    Args:
        session: A write session.
        actor: Who adds it.
        group_public_id: The class or crew.
        check_public_id: The check.
        photograph: The picture, as `read_photograph` gives it.
        shows: What is seen on it, as typed; 1 to 200 characters.
        now: This moment.

    Raises:
        NotFoundError: When the group is not his to know of, or has no such check.
        NotAllowedError: When he does not lead it, or `why_no_photo` says why not.
        InputError: With `field` "shows".
    """
    group, check, row = _led(session, actor, group_public_id, check_public_id)
    if why_not := why_no_photo(actor, check, count_photos(session, row)):
        raise NotAllowedError(why_not)
    keep_photo(session, actor, row, photograph, shows=shows, now=now)
    note_check(session, actor, (group, check), "check.photo-added", now)


def remove_photo(
    session: Session, actor: Actor, group_public_id: str, check_public_id: str, photo_public_id: str, *, now: datetime
) -> None:
    """
    Take a photograph away for good; whoever leads the group may, but not from a check of his own.

    Raises:
        NotFoundError: When the group is not his to know of, or there is no such photograph of this check.
        NotAllowedError: When he does not lead it, or the check is his own.
    """
    group, check, row = _led(session, actor, group_public_id, check_public_id)
    if check.person_id == actor.person_id:
        raise NotAllowedError(Message("photo.own-check"))
    forget_photo(session, row, photo_public_id)
    note_check(session, actor, (group, check), "check.photo-removed", now)


def why_no_photo(actor: Actor, check: Check, photos: int) -> Message | None:
    """What keeps somebody who leads the group from adding a photograph to a check that has so many; None for nothing."""
    if check.person_id == actor.person_id:
        return Message("photo.own-check")
    if check.state in {"withdrawn", "dropped"}:
        return Message("photo.check-over")
    return enough(photos)


def own_photo(session: Session, actor: Actor, photo_public_id: str) -> bytes:
    """
    A photograph of a check of the one who asks, as JPEG.

    Raises:
        NotFoundError: When there is none.
    """
    return image_of(session, CheckPhoto, photo_public_id, HandsOnCheck.person_id == actor.person_id)


def photo_seen_by(session: Session, actor: Actor, group_public_id: str, photo_public_id: str) -> bytes:
    """
    A photograph of a check that was set in a group, as JPEG, for who leads it.

    Raises:
        NotFoundError: When the group is not his to know of, or no check of it has such a photograph.
        NotAllowedError: When he does not lead it.
    """
    group = group_led_by(session, actor, group_public_id)
    return image_of(session, CheckPhoto, photo_public_id, HandsOnCheck.group_id == group.id)


def _led(
    session: Session, actor: Actor, group_public_id: str, check_public_id: str
) -> tuple[GroupRef, Check, HandsOnCheck]:
    group = group_led_by(session, actor, group_public_id)
    row = locked_check(session, group, check_public_id)
    return group, one_check(session, group, check_public_id), row
