"""
What is held as text and made when it is first wanted: a start waits for no file that nobody asks for.

The texts are read at once all the same, so that a program upgraded under a running server teaches what it started with.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import TypeVar

__all__ = ["Held"]

Entry = TypeVar("Entry")


class Held(Mapping[str, Entry]):
    """
    Entries by id, each made once; those of one file are made together.

    Args:
        files: The file of each id, in the order of the entries.
        make: Gives the entries of a file.
    """

    def __init__(self, files: Mapping[str, str], make: Callable[[str], Mapping[str, Entry]]) -> None:
        self._files = files
        self._make = make
        self._made: dict[str, Entry] = {}

    def __getitem__(self, name: str) -> Entry:
        if name not in self._made:
            # Made by two threads at once, the first stays, so that everybody has the same one.
            for made, entry in self._make(self._files[name]).items():
                self._made.setdefault(made, entry)
        return self._made[name]

    def __contains__(self, name: object) -> bool:
        return name in self._files

    def __iter__(self) -> Iterator[str]:
        return iter(self._files)

    def __len__(self) -> int:
        return len(self._files)
