"""
Boxes by the names that people give them: `4 x 1-1/2 square`, `4-11/16 square, 2-1/8 deep`, `FS 2 gang`, `21 cu in`.

Cubic inches.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from msgspec import Struct

from trainer.calc.message import InputError, Message
from trainer.calc.number import LONGEST_TEXT, Refusal
from trainer.calc.reading import read_number
from trainer.calc.tables import table

__all__ = ["BOXES", "Box", "read_box"]

_TABLE = table("boxes")["boxes"]
#: Volume of a cast box alone, and of each gang of several.
_CAST = {shape: (alone, each_of_several) for shape, alone, each_of_several in table("boxes")["cast"]["rows"]}

_EXAMPLE = "4 x 1-1/2 square"

_SHAPES = {
    **dict.fromkeys(("octagonal", "octagon", "oct", "round"), "octagonal"),
    **dict.fromkeys(("square", "sq"), "square"),
    **dict.fromkeys(("device", "switch", "utility", "handy"), "device"),
    "masonry": "masonry",
    "fs": "FS",
    "fd": "FD",
}

#: Words that name no size and no shape.
_IDLE = {"x", "by", "in", "inch", "inches", "box", "deep", "metal", "steel", "depth", "cast"}

_MEANT = str.maketrans({"×": "x", "⁄": "/", '"': " ", "”": " ", ",": " ", **dict.fromkeys("‐‑–—", "-")})
_VOLUME = re.compile(r"[0-9. ]+(?:(?:cu|in3|in³|cubic|cm3|cm³).*)?", re.IGNORECASE)
_GANGS = re.compile(r"\b([0-9]{1,2}|single|one|two|three|four)[ -]?gangs?\b")
_GANG_WORDS = {"single": 1, "one": 1, "two": 2, "three": 3, "four": 4}
_SIZE = re.compile(r"[0-9]{1,2}(?:[ -][0-9]{1,2}/[0-9]{1,2})?(?![0-9./])")

_MOST_GANGS = 12


class Box(Struct, frozen=True):
    """
    A box and the room in it.

    Args:
        name: As it is called, such as "4 x 1-1/2 square".
        volume: For conductors [in3].
    """

    name: str
    volume: float

    def __str__(self) -> str:
        """Its name."""
        return self.name


class _Listed(Struct, frozen=True):
    shape: str
    size: tuple[str, ...]
    volume: float
    per_gang: bool

    @property
    def name(self) -> str:
        return f"{' x '.join(self.size)} {self.shape}"


_LISTED = [_Listed(row["shape"], tuple(row["size"]), row["volume"], "per_gang" in row) for row in _TABLE["rows"]]

#: Every box of the table by its name; cast ones alone.
BOXES = {
    **{listed.name: Box(listed.name, listed.volume) for listed in _LISTED},
    **{name: Box(name, volumes[0]) for name, volumes in _CAST.items()},
}


def read_box(text: str) -> Box:
    """
    Read a box of the table by its shape and size, or any box by the volume that it is marked with.

    Args:
        text: As typed; for masonry and cast boxes with the number of gangs, one when none is said.

    Raises:
        InputError: When the table has no such box, or more than one that it could be.

    >>> read_box("4 in. square, 1-1/2 deep"), read_box("FD 2 gang")
    (Box(name='4 x 1-1/2 square', volume=21.0), Box(name='FD, 2 gang', volume=48.0))
    """
    refusal = Refusal(text, Message("boxes.accepted"), _EXAMPLE)
    if len(text) > LONGEST_TEXT:
        raise refusal.because("number.too-long", limit=LONGEST_TEXT)
    if _VOLUME.fullmatch(text.strip()):
        return _marked(read_number(text, "cu in").value, refusal)
    plain = " ".join(re.sub(r"(?<=[a-z])\.", " ", text.translate(_MEANT).lower()).split())
    gangs, plain = _gangs(plain, refusal)
    shape, size = _shape_and_size(plain, refusal)
    if shape in _CAST and not size:
        return _cast(shape, gangs)
    return _listed(shape, size, gangs, refusal)


def _marked(volume: float, refusal: Refusal) -> Box:
    if not 0 < volume <= 2000:
        raise refusal.because("boxes.no-such-volume")
    return Box(f"{volume:g} cu in", volume)


def _gangs(plain: str, refusal: Refusal) -> tuple[int, str]:
    """The number of gangs and the text without it."""
    match = _GANGS.search(plain)
    if not match:
        return 1, plain
    gangs = _GANG_WORDS.get(match[1]) or int(match[1])
    if not 1 <= gangs <= _MOST_GANGS:
        raise refusal.because("boxes.gangs", most=_MOST_GANGS)
    return gangs, plain[: match.start()] + plain[match.end() :]


def _shape_and_size(plain: str, refusal: Refusal) -> tuple[str, tuple[str, ...]]:
    """The shape ("" when none is said) and the sizes in the order in which they stand."""
    plain = re.sub(r"(?<=[0-9]) ?x ?(?=[0-9])", " x ", plain)
    size = tuple(found.replace(" ", "-") for found in _SIZE.findall(plain))
    words = {word for word in _SIZE.sub(" ", plain).split() if word not in _IDLE}
    shapes = {_SHAPES.get(word) for word in words}
    if None in shapes or len(shapes) > 1 or not (shapes or size):
        raise refusal.because("boxes.not-understood")
    return next(iter(shapes), None) or "", _without_repeat(size)


def _without_repeat(size: tuple[str, ...]) -> tuple[str, ...]:
    """`4 x 4 x 1-1/2` is the square that is called `4 x 1-1/2`."""
    return size[1:] if len(size) == 3 and size[0] == size[1] else size


def _cast(shape: str, gangs: int) -> Box:
    alone, each_of_several = _CAST[shape]
    if gangs == 1:
        return Box(shape, alone)
    return Box(f"{shape}, {gangs} gang", gangs * each_of_several)


def _listed(shape: str, size: tuple[str, ...], gangs: int, refusal: Refusal) -> Box:
    found = [listed for listed in _LISTED if listed.size == size and shape in {"", listed.shape}]
    if len(found) != 1:
        raise _none_or_several(shape, found, refusal)
    box = found[0]
    if gangs == 1:
        return Box(box.name, box.volume)
    if not box.per_gang:
        raise refusal.because("boxes.not-by-gangs", name=box.name)
    return Box(f"{box.name}, {gangs} gang", gangs * box.volume)


def _none_or_several(shape: str, found: Sequence[_Listed], refusal: Refusal) -> InputError:
    if found:
        return refusal.because("boxes.which", names=[listed.name for listed in found])
    names = [listed.name for listed in _LISTED if shape in {"", listed.shape}]
    return refusal.because("boxes.no-such-box", names=names)
