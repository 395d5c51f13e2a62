"""One thing that is not as it should be."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import islice

from msgspec import Struct

__all__ = ["PUT_BACK", "Finding", "listed"]

PUT_BACK = (
    "Stop the site and keep a copy of it as it is. Then put back the newest backup in which this is not so: "
    "trainer restore FILE --replace."
)
"""What helps where rows are lost: they stand nowhere else."""

MOST_LISTED = 5


class Finding(Struct, frozen=True):
    """
    One finding.

    Args:
        what: What is wrong, in a sentence.
        where: Where it was found.
        do: What to do about it.
        is_damage: Whether something is lost or cannot work; else it is advice.
    """

    what: str
    where: str
    do: str
    is_damage: bool = True


def listed(kind: str, names: Iterable[object]) -> str:
    """
    Some of the rows concerned, in words.

    >>> listed("answer", [3, 9])
    'answer 3, 9'
    """
    rest = iter(names)
    shown = ", ".join(str(name) for name in islice(rest, MOST_LISTED))
    more = sum(1 for _ in rest)
    return f"{kind} {shown}" + (f" and {more:,} more" if more else "")
