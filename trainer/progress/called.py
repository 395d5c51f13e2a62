"""How a known mistake is called in a list or a tally, where its whole sentence doesn't fit."""

from __future__ import annotations

from trainer.problems.parts import Family

__all__ = ["called", "did"]


def called(mistake_id: str, family: Family | None = None) -> str:
    """
    What was done, in the family's words; without them the id as words, since files name mistakes by what was done.

    Args:
        mistake_id: Id of the mistake.
        family: Its family, as far as it is at hand.

    >>> called("shrink-left-out")
    'shrink left out'
    """
    return did(mistake_id, family) or mistake_id.replace("-", " ")


def did(mistake_id: str, family: Family | None) -> str:
    """What was done, to be read after "9 of 24"; "" where the family has no words for it."""
    mistakes = family.shape.mistakes if family else ()
    return next((one.did for one in mistakes if one.id == mistake_id and one.did), "")
