"""
A person's short memory of one known mistake: the last six problems that could have shown it, one bit each.

Systematic errors come and go (Brown and Burton 1978; VanLehn 1982): the memory is short on purpose.
"""

from __future__ import annotations

from datetime import datetime, timedelta

from msgspec import Struct

from trainer.progress.constants import CURRENT, Constants

__all__ = ["History", "remember"]

ALL_SIX = 0b111111
LENGTH = 6
ACTIVE_FROM = 2


class History(Struct, frozen=True):
    """
    What is remembered about one mistake of one person.

    Args:
        bits: 1 for each of the last problems that showed the mistake, the newest lowest.
        seen: How many problems the bits stand for, 0 to 6.
        right_at: When the newest of them was answered right; None if it was not.
        right_before_at: When the one before that was, if both were right.
    """

    bits: int = 0
    seen: int = 0
    right_at: datetime | None = None
    right_before_at: datetime | None = None

    @property
    def active(self) -> bool:
        """
        Whether the mistake is one that the person makes at present: in two or more of the last six problems.

        >>> History(0b100100, 6).active, History(0b000100, 6).active
        (True, False)
        """
        return self.bits.bit_count() >= ACTIVE_FROM


def remember(history: History, *, shown: bool, right: bool, at: datetime, constants: Constants = CURRENT) -> History:
    """
    The history after one more problem that could have shown the mistake.

    The last two problems right on two days wipe it out; two days are two answers at least half a day apart.
    """
    bits = (history.bits << 1 | shown) & ALL_SIX
    seen = min(LENGTH, history.seen + 1)
    if not right:
        return History(bits, seen)
    apart = timedelta(days=constants.another_day)
    cleared = history.right_at is not None and at - history.right_at >= apart
    return History(0 if cleared else bits, seen, at, history.right_at)
