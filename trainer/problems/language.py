"""The words of a question file held against the dictionary, the list of brands and the reading level."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from trainer.problems.errors import ContentError
from trainer.problems.lines import KeyPath
from trainer.problems.parts import Family
from trainer.text.reading import amiss_in_words, hard_to_read

__all__ = ["language", "prose_of"]

#: Keys whose text people read, wherever they stand; everything under `phrases` is read too.
READ = frozenset({"title", "about", "scene", "text", "why", "say", "did", "caption", "heading", "fact"})


def language(family: Family) -> list[ContentError]:
    """What is amiss with the words of a family, each finding with its line."""
    return [
        ContentError(family.file, family.line(*path), ".".join(map(str, path)), given, accepted)
        for path, text in prose_of(family.shape.model_dump(by_alias=True, exclude_defaults=True))
        for given, accepted in (*amiss_in_words(text), *hard_to_read(text))
    ]


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
