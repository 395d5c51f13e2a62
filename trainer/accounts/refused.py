"""A refusal of what may be tried again: a value, not an exception, which would roll the count of failures back."""

from __future__ import annotations

from datetime import timedelta
from math import ceil

from msgspec import Struct

from trainer.calc.message import Message

__all__ = ["Refused", "too_often"]


class Refused(Struct, frozen=True):
    """
    It did not work.

    Args:
        reason: What to say. It does not tell whether a name or a password was wrong.
        wait: How long nothing will be tried; zero when it may be tried again at once.
    """

    reason: Message
    wait: timedelta = timedelta(0)


def too_often(pause: timedelta) -> Refused:
    """
    Refused for having tried too often.

    >>> too_often(timedelta(seconds=90)).reason
    Message(id='accounts.wait', params={'minutes': 2})
    """
    minutes = ceil(pause / timedelta(minutes=1))
    return Refused(Message("accounts.wait-one" if minutes == 1 else "accounts.wait", {"minutes": minutes}), pause)
