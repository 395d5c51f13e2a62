"""Which questions a proof run may ask: at least three families of the skill, taken in turn."""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Collection, Sequence

from trainer.library.shelf import Library
from trainer.problems.family import Family

__all__ = ["FEWEST_FAMILIES", "askable", "next_family"]

FEWEST_FAMILIES = 3


def askable(library: Library, skill: str, alarmed: Collection[str] = ()) -> tuple[Family, ...]:
    """
    The families that a run in this skill draws from.

    No parts of jobs, whose later parts rest on the earlier; no work of a later year where the skill has other; none
    whose key is in doubt.

    Args:
        library: The content.
        skill: The skill.
        alarmed: Ids of families whose key is in doubt.
    """
    whole = [family for family in library.families_of(skill) if family.job is None]
    here = [family for family in whole if not family.later] or whole
    return tuple(family for family in here if family.id not in alarmed)


def next_family(families: Sequence[Family], asked: Sequence[str], run: str) -> Family:
    """
    The family whose turn it is: one asked least so far and not just now; between equals by the run's own order.

    Args:
        families: What may be asked, one at least.
        asked: Ids of the families asked in this run, in order.
        run: Public id of the run.
    """
    times = Counter(asked)
    last = asked[-1] if asked and len(families) > 1 else ""
    return min(
        (family for family in families if family.id != last), key=lambda family: (times[family.id], _place(family, run))
    )


def _place(family: Family, run: str) -> bytes:
    """An order of its own for each run, the same on every machine."""
    return hashlib.sha256(f"{run}:{family.id}".encode()).digest()
