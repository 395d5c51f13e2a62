"""How many problems of which family: as a list to choose from sends them, in a form or in an address."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from trainer.groups.assigned import FamilyCount
from trainer.web.content import library

__all__ = ["COUNT", "as_fields", "read_counts"]

COUNT = "count-"
"""Start of a field's name, before the id of the family."""


def read_counts(sent: Mapping[str, str]) -> list[FamilyCount]:
    """What was chosen, in the order of the library; what is no number or no family counts as not chosen."""
    chosen = ((family, sent.get(COUNT + family, "")) for family in library().givable)
    return [FamilyCount(family, int(text)) for family, text in chosen if _is_count(text)]


def as_fields(counts: Iterable[FamilyCount]) -> dict[str, Any]:
    """The same as fields of a form or of an address."""
    return {COUNT + one.family_id: one.count for one in counts}


def _is_count(text: str) -> bool:
    return text.isdecimal() and 1 <= len(text) <= 2 and int(text) > 0
