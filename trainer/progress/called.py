"""How a known mistake is called in a list or a tally, where its whole sentence doesn't fit."""

from __future__ import annotations

__all__ = ["called"]


def called(mistake_id: str) -> str:
    """
    The id as words: question files name their mistakes by what was done.

    >>> called("shrink-left-out")
    'shrink left out'
    """
    return mistake_id.replace("-", " ")
