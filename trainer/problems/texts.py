"""The texts in the tables of a content file, with the path to each."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from trainer.problems.lines import KeyPath

__all__ = ["prose_of", "texts_of"]

#: Keys whose text people read, wherever they stand; everything under `phrases` is read too.
READ = frozenset({"title", "about", "scene", "text", "why", "say", "did", "caption", "heading", "fact"})


def texts_of(entry: object) -> Iterator[tuple[KeyPath, str]]:
    """Every text, whoever reads it."""
    return prose_of(entry, read=True)


def prose_of(entry: object, path: KeyPath = (), *, read: bool = False) -> Iterator[tuple[KeyPath, str]]:
    """Every text that people read, in tables and lists of any depth, with its path."""
    if isinstance(entry, str):
        if read:
            yield path, entry
    elif isinstance(entry, Mapping):
        for key, value in entry.items():
            yield from prose_of(value, (*path, key), read=read or key == "phrases" or key in READ)
    elif isinstance(entry, list | tuple):
        yield from _in_list(entry, path, read=read)


def _in_list(entries: list[Any] | tuple[Any, ...], path: KeyPath, *, read: bool) -> Iterator[tuple[KeyPath, str]]:
    for at, value in enumerate(entries):
        yield from prose_of(value, (*path, at), read=read)
