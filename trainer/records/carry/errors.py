"""What can stand in the way of carrying a site's records, each with a sentence that says what to do."""

from __future__ import annotations

__all__ = ["CarryError", "DamagedBackupError", "UnreadableRowError"]


class CarryError(RuntimeError):
    """The records were not carried, and nothing has changed where they were to go. The message says why."""


class DamagedBackupError(CarryError):
    """A backup is not as it was written, or is none; nothing was restored from it."""


class UnreadableRowError(CarryError):
    """
    A row holds what its column cannot hold, which only damage brings about.

    Attributes:
        table: Where it stands.
    """

    def __init__(self, table: str, sentence: str) -> None:
        super().__init__(sentence)
        self.table = table
