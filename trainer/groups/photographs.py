"""
Photographs that people send: decoded, turned upright, made smaller and written anew, so that nothing but the picture stays.

A file that claims to be a picture is not trusted: its size and its pixels are bounded before it is decoded, only three
formats are tried, and what is kept is our own JPEG. Where and when it was taken, and with what, goes with the old file.
"""

from __future__ import annotations

import warnings
from io import BytesIO
from struct import error as struct_error
from typing import TYPE_CHECKING

from msgspec import Struct

from trainer.calc.message import InputError, Message

if TYPE_CHECKING:  # The library is loaded with the first photograph, not with every process.
    from PIL import Image

__all__ = ["FORMATS", "LONGEST_SIDE", "MOST_BYTES", "Photograph", "read_photograph"]

FORMATS = ("JPEG", "PNG", "WEBP")
MEBIBYTE = 1024 * 1024
MOST_BYTES = 12 * MEBIBYTE
"""Of the file as it is sent."""
MOST_PIXELS = 50_000_000
"""Of a JPEG, which is made smaller while it is decoded."""
MOST_PIXELS_WHOLE = 24_000_000
"""Of formats that are held whole before they are made smaller."""
WHOLE = ("PNG", "WEBP")
LONGEST_SIDE = 1600
"""Pixels of what is kept; also a rule of the table."""
#: The first one that brings the picture below the table's bound is taken.
QUALITIES = (82, 65, 45)
MOST_KEPT = 2_000_000

#: What Pillow raises for files that are broken in one way or another, beside its own.
BROKEN = (OSError, ValueError, SyntaxError, EOFError, struct_error)


class Photograph(Struct, frozen=True):
    """A photograph as it is kept: JPEG, and its width and height in pixels."""

    image: bytes
    width: int
    height: int


def read_photograph(sent: bytes, *, field: str = "photo") -> Photograph:
    """
    A photograph from the bytes of a file.

    Args:
        sent: The file as it was sent.
        field: Name of the form's field, for the error.

    Raises:
        InputError: When there is no file, it is too large, has too many pixels, or is no picture that can be read.
    """
    from PIL import Image  # noqa: PLC0415 - see above

    if not sent:
        raise _refused("photo.missing", "", field)
    if len(sent) > MOST_BYTES:
        raise _refused("photo.too-large", f"{len(sent) / MEBIBYTE:.0f} MB", field)
    try:
        with warnings.catch_warnings(), Image.open(BytesIO(sent), formats=FORMATS) as opened:
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            width, height = opened.size
            if width * height > (MOST_PIXELS_WHOLE if opened.format in WHOLE else MOST_PIXELS):
                raise _refused("photo.too-many-pixels", f"{width} × {height}", field)
            upright = _upright(opened)
    except InputError:
        raise
    except (*BROKEN, Image.DecompressionBombWarning, Image.DecompressionBombError):
        raise _refused("photo.unreadable", "", field) from None
    return Photograph(_written(upright), *upright.size)


def _upright(opened: Image.Image) -> Image.Image:
    """The picture alone: small enough, turned as it was held, on white where it was clear, and without what came along."""
    from PIL import Image, ImageOps  # noqa: PLC0415 - see above

    # Smaller first, and a JPEG while it is decoded: turning and converting make copies.
    opened.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
    clear = ImageOps.exif_transpose(opened).convert("RGBA")
    plain = Image.new("RGB", clear.size, "white")
    plain.paste(clear, mask=clear.getchannel("A"))
    return plain


def _written(picture: Image.Image) -> bytes:
    for quality in QUALITIES:
        held = BytesIO()
        picture.save(held, "JPEG", quality=quality, optimize=True)
        if held.tell() <= MOST_KEPT:
            break
    return held.getvalue()


def _refused(reason: str, given: str, field: str) -> InputError:
    accepted = Message("photo.accepted", {"most": f"{MOST_BYTES // MEBIBYTE}"})
    return InputError(Message(reason), given=given, accepted=accepted, example="IMG_0042.jpg", field=field)
