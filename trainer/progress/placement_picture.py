"""The first picture in which a placement run ends: unit by unit what was right of what was asked, and where to start. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from msgspec import Struct, to_builtins

from trainer.calc.message import Message, Quantity

__all__ = ["Picture", "Told", "UnitPicture", "picture_of", "read_picture", "weakest", "write_picture"]

SAID_FROM = 3
"""Questions asked in a unit from which more is said than the count."""


class Told(Struct, frozen=True):
    """What one decided question told: its unit, whether the answer was right, whether the person passed on it."""

    unit: str
    right: bool
    skipped: bool


class UnitPicture(Struct, frozen=True):
    """
    A unit in the picture.

    Args:
        unit: Its id.
        asked: Questions that were decided.
        right: Of them right.
        skipped: Of them left with "I don't know this".
    """

    unit: str
    asked: int
    right: int
    skipped: int

    @property
    def words(self) -> Message:
        """What can honestly be said of it."""
        params = {"right": self.right, "asked": self.asked, "skipped": Quantity(self.skipped, "questions")}
        return Message(f"placement.unit.{self._said}", params)

    @property
    def _said(self) -> str:
        if not self.asked:
            return "not-asked"
        if self.asked < SAID_FROM:
            return "early"
        if self.right == self.asked:
            return "all"
        return "most" if 2 * self.right > self.asked else "few"


class Picture(Struct, frozen=True):
    """
    What came of a run.

    Args:
        units: The units in the order of the trade, those not asked about too.
        start: Id of the unit to start with; "" where nothing that was asked went wrong.
    """

    units: tuple[UnitPicture, ...]
    start: str

    @property
    def asked(self) -> int:
        """Questions that were decided, in all units."""
        return sum(unit.asked for unit in self.units)

    @property
    def right(self) -> int:
        """Of them right."""
        return sum(unit.right for unit in self.units)


def picture_of(units: Sequence[str], told: Iterable[Told]) -> Picture:
    """
    The picture that decided questions give.

    Args:
        units: Ids of the units in the order of the trade.
        told: What the questions told, in any order.
    """
    known = tuple(told)
    pictures = tuple(_unit(unit, [one for one in known if one.unit == unit]) for unit in units)
    return Picture(pictures, weakest(pictures))


def weakest(units: Sequence[UnitPicture]) -> str:
    """
    The unit to start with: of those with something not right, the one with the smallest share right; "" for none.

    The share is taken as if one more were right and one more wrong, so that one slip in one question does not weigh
    more than three in four. Between equals the one that the trade teaches first. When nothing was asked, the first unit.

    >>> weakest([UnitPicture("cutting", 1, 0, 0), UnitPicture("bends", 4, 1, 0), UnitPicture("fill", 4, 0, 2)])
    'fill'
    """
    if not any(unit.asked for unit in units):
        return units[0].unit if units else ""
    weak = [unit for unit in units if unit.right < unit.asked]
    return min(weak, key=lambda unit: (unit.right + 1) / (unit.asked + 2)).unit if weak else ""


def write_picture(picture: Picture) -> dict[str, Any]:
    """As it is kept."""
    kept: dict[str, Any] = to_builtins(picture)
    return kept


def read_picture(kept: Mapping[str, Any]) -> Picture:
    """As it was kept."""
    return Picture(tuple(UnitPicture(**unit) for unit in kept["units"]), kept["start"])


def _unit(unit: str, told: Sequence[Told]) -> UnitPicture:
    right, skipped = sum(one.right for one in told), sum(one.skipped for one in told)
    return UnitPicture(unit, len(told), right, skipped)
