"""
Reads the raceway entries of a pull box: `3 left to 3 right, 2 left row 2 to 2 top`.

A pull is two entries with `to` between them. Where conductors of one raceway part, each entry stands by itself with the
letters of its pulls, `3 left A B, 2 top A, 2 bottom B`; conductors that end there are a `splice`.
"""

from __future__ import annotations

import re
from collections import Counter
from enum import StrEnum
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from trainer.calc.message import Message
from trainer.calc.number import Refusal
from trainer.calc.raceways import TRADE_SIZES
from trainer.calc.tables import table

__all__ = ["ENTRY_SIZES", "Entry", "Wall", "read_entries"]

#: Trade sizes that an entry may have.
ENTRY_SIZES: tuple[str, ...] = (*TRADE_SIZES, *table("pull_boxes")["sizes"]["above_4"])

LONGEST_LIST = 400

_EXAMPLE = "3 left to 3 right, 2 left to 2 top"
_MEANT = str.maketrans({'"': " ", "”": " ", "⁄": "/", **dict.fromkeys("‐‑–—", "-")})
_ROW = re.compile(r"\brow ?([1-9])\b")
_SIZE = re.compile(r"(?<![0-9/.-])([0-9](?:[ -][0-9]/[0-9])?|[0-9]/[0-9])(?![0-9/.-])")
_LETTER = re.compile(r"[a-z]")
_IDLE = {"in", "inch", "wall", "trade", "size", "on", "the", "emt", "from", "at"}


class Wall(StrEnum):
    """A side of the box with entries; the back lies opposite the cover."""

    LEFT = "left"
    RIGHT = "right"
    TOP = "top"
    BOTTOM = "bottom"
    BACK = "back"


class Entry(Struct, frozen=True):
    """
    One raceway entry.

    Args:
        wall: Where it enters.
        trade_size: Of the raceway.
        row: Which row on that wall, 1 the first.
        pulls: Names of the pulls that go through it; empty for conductors that end in the box.
    """

    wall: Wall
    trade_size: str
    row: int = 1
    pulls: tuple[str, ...] = ()

    @property
    def inches(self) -> float:
        """
        The trade size as a number of inches.

        >>> Entry(Wall.LEFT, "1-1/4").inches
        1.25
        """
        return float(sum(map(Fraction, self.trade_size.split("-"))))

    def message(self) -> Message:
        """Where it is, as a sentence."""
        wall = Message(f"pull_boxes.wall.{self.wall}")
        return Message("pull_boxes.entry", {"size": self.trade_size, "wall": wall, "row": self.row})

    def __str__(self) -> str:
        """As it can be typed."""
        row = f" row {self.row}" if self.row > 1 else ""
        return f"{self.trade_size} {self.wall}{row} {' '.join(self.pulls) or 'splice'}"


def read_entries(text: str) -> tuple[Entry, ...]:
    """
    Read the entries of a pull box.

    Args:
        text: As typed, pulls or entries with commas, semicolons or lines between them, at most 400 characters.

    Raises:
        InputError: With the item that can't be read, or an entry whose conductors go nowhere.

    >>> [str(entry) for entry in read_entries("3 left to 3 right; 2 top splice")]
    ['3 left 1', '3 right 1', '2 top splice']
    """
    refusal = Refusal(text, Message("pull_boxes.accepted"), _EXAMPLE)
    if len(text) > LONGEST_LIST:
        raise refusal.because("input.list-too-long", limit=LONGEST_LIST)
    items = [" ".join(item.split()) for item in re.split(r"[,;\n]", text.translate(_MEANT).lower())]
    entries = [entry for number, item in enumerate(items, start=1) for entry in _item(item, number, refusal)]
    _check_partners(entries, refusal)
    return tuple(entries)


def _item(item: str, number: int, refusal: Refusal) -> list[Entry]:
    """One pull of two entries, or one entry."""
    ends = re.split(r" to ", item)
    if len(ends) == 1:
        return [_entry(item, item, refusal)]
    if len(ends) > 2:
        raise refusal.because("pull_boxes.more-than-two", item=item)
    return [replace(_entry(end, item, refusal, alone=False), pulls=(str(number),)) for end in ends]


def _entry(text: str, item: str, refusal: Refusal, *, alone: bool = True) -> Entry:
    """Wall, trade size and row, and for an entry alone its letters."""
    row = _ROW.search(text)
    rest = _ROW.sub(" ", text)
    sizes = _SIZE.findall(rest)
    words = _SIZE.sub(" ", rest).split()
    walls = [word for word in words if word in set(Wall)]
    others = [word for word in words if word not in _IDLE and word not in set(Wall)]
    if len(sizes) != 1 or len(walls) != 1:
        raise refusal.because("pull_boxes.not-understood", item=item)
    size = sizes[0].replace(" ", "-")
    if size not in ENTRY_SIZES:
        raise refusal.because("pull_boxes.no-such-size", size=sizes[0], sizes=list(ENTRY_SIZES))
    return Entry(Wall(walls[0]), size, int(row[1]) if row else 1, _pulls(others, item, refusal, alone=alone))


def _pulls(words: list[str], item: str, refusal: Refusal, *, alone: bool) -> tuple[str, ...]:
    """The letters of an entry alone; none for a splice, and none within `to`."""
    if words == ["splice"] and alone:
        return ()
    if not all(_LETTER.fullmatch(word) for word in words) or (words and not alone):
        raise refusal.because("pull_boxes.not-understood", item=item)
    if alone and not words:
        raise refusal.because("pull_boxes.no-partner", item=item)
    return tuple(sorted({word.upper() for word in words}))


def _check_partners(entries: list[Entry], refusal: Refusal) -> None:
    for pull, count in Counter(pull for entry in entries for pull in entry.pulls).items():
        if count != 2:
            raise refusal.because("pull_boxes.not-a-pair", pull=pull, count=count)
