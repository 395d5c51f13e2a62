"""How long a site keeps what it holds for a while only: its settings say so, `trainer.accounts.tidying` does so."""

from __future__ import annotations

from datetime import timedelta

from msgspec import Struct

from trainer.accounts.sessions import SignInLife

__all__ = ["Keeping"]


class Keeping(Struct, frozen=True):
    """
    How long a site keeps what passes.

    Args:
        life: How long sign-ins last, and what has ended is kept.
        looks: Notes who looked at whose record; None without end.
        log: All other notes that belong to no record; None without end.
    """

    life: SignInLife
    looks: timedelta | None
    log: timedelta | None
