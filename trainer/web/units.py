"""The units of the course as pages name them, in the order in which the trade is taught."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Protocol, TypeVar

from trainer.web.language import Later

__all__ = ["UNITS", "by_unit", "unit_title"]


class OfUnit(Protocol):
    """Anything that belongs to a unit."""

    @property
    def unit(self) -> str:
        """Id of the unit."""


Thing = TypeVar("Thing", bound=OfUnit)

UNITS: Mapping[str, Later] = {
    "measuring": Later("Measuring"),
    "cutting": Later("Cutting"),
    "fittings": Later("Fittings"),
    "supports": Later("Supports"),
    "wet": Later("Damp and wet places"),
    "bends": Later("Bends"),
    "cut-lengths": Later("Cut lengths"),
    "fill": Later("Raceway fill"),
    "boxes": Later("Boxes"),
    "conductors": Later("Conductors"),
    "pulling": Later("Pulling"),
    "inspection": Later("Reading a run as an inspector"),
}


def unit_title(unit: str) -> str:
    """
    What to call a unit; one that a site's own content has made up is called by its id.

    >>> unit_title("wet"), unit_title("fire-alarm")
    ('Damp and wet places', 'Fire alarm')
    """
    return str(UNITS[unit]) if unit in UNITS else unit.replace("-", " ").capitalize()


def by_unit(things: Iterable[Thing]) -> list[tuple[str, list[Thing]]]:
    """Things under the titles of their units, in the order of the trade; within a unit in the order given."""
    found: dict[str, list[Thing]] = {unit: [] for unit in UNITS}
    for thing in things:
        found.setdefault(thing.unit, []).append(thing)
    return [(unit_title(unit), members) for unit, members in found.items() if members]
