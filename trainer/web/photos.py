"""A photograph in a form: the fields, how much is read, and what comes of the file."""

from __future__ import annotations

from typing import Any

from flask import request
from wtforms import FileField, StringField

from trainer.groups.keeping_photos import LONGEST_SHOWS
from trainer.groups.photographs import MOST_BYTES, Photograph, read_photograph
from trainer.web.forms import Filled, SiteForm
from trainer.web.language import Later

__all__ = ["MOST_READ", "PHOTO_LIMITS", "PhotoForm", "is_photo_sent", "sent_photograph"]

#: Room for the other fields, and for a file that is told to be too large in kind words, with what was typed kept.
MOST_READ = 4 * MOST_BYTES
PHOTO_LIMITS: dict[str, Any] = {"longest_shows": LONGEST_SHOWS, "megabytes": MOST_BYTES // 2**20}
"""What the fields of `components/photos.html` say about themselves."""

TOLD = Later("Write what is seen on it, for who cannot see it.")


class PhotoForm(SiteForm):
    """A file, and what is seen on it."""

    photo = FileField()
    shows = StringField(validators=[Filled(TOLD)])


def is_photo_sent() -> bool:
    """Whether a file was chosen."""
    sent = request.files.get("photo")
    return bool(sent and sent.filename)


def sent_photograph() -> Photograph:
    """
    The photograph that was sent as "photo". It takes a while: before the transaction, as the write lock is for all.

    Raises:
        InputError: With `field` "photo", when there is none or it cannot be used.
    """
    sent = request.files.get("photo")
    return read_photograph(sent.read(MOST_BYTES + 1) if sent else b"")
