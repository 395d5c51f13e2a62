"""One paper at a time for each person on a host: setting one keeps a worker busy for seconds, and there are few of them."""

from __future__ import annotations

import fcntl
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

__all__ = ["PaperUnderWayError", "turn"]

FILE = "papers.lock"


class PaperUnderWayError(RuntimeError):
    """Another paper is being made for this person."""


@contextmanager
def turn(folder: Path, person_id: int) -> Iterator[None]:
    """
    Within this block no other worker of this host makes a paper for the person.

    Each person has a byte of a file that stays empty. The system lets go of it when a worker ends, however it ends.

    Args:
        folder: The site's own data.
        person_id: Whose turn it is.

    Raises:
        PaperUnderWayError: When another worker makes one just now.
    """
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    file = os.open(folder / FILE, os.O_RDWR | os.O_CREAT, 0o600)
    try:
        try:
            fcntl.lockf(file, fcntl.LOCK_EX | fcntl.LOCK_NB, 1, person_id)
        except (BlockingIOError, PermissionError) as error:
            raise PaperUnderWayError from error
        yield
    finally:
        os.close(file)
