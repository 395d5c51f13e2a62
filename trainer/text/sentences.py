"""
The English sentences by id, read once from `english/*.toml`.

One file an area; each holds flat keys, `"length.zero-denominator" = "..."`. A placeholder is a name in braces,
`{given}`, filled from the message's parameters. Counted things have two forms, "unit.straps.one" and "unit.straps.many".
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from types import MappingProxyType

__all__ = ["PLACEHOLDER", "SentenceError", "english", "placeholders", "read_sentences"]

PLACEHOLDER = re.compile(r"\{([a-z][a-z0-9_]*)\}")
#: A file of which each line is empty, a comment, or `"id" = "sentence"` without an escape: as they all are.
_PLAIN = re.compile(
    r"""(?:(?:\#[^\x00-\x1f\x7f]*|"[^"\\\x00-\x1f\x7f]+"\ =\ "[^"\\\x00-\x1f\x7f]*")?\n)*""", re.VERBOSE
)
_SENTENCE = re.compile(r'^"([^"]+)" = "([^"]*)"$', re.MULTILINE)


class SentenceError(LookupError):
    """A sentence is missing, stands twice, or is no text."""


@cache
def english() -> Mapping[str, str]:
    """Every English sentence by its id."""
    folder = files("trainer.text") / "english"
    return read_sentences(
        {file.name: file.read_text("utf-8") for file in folder.iterdir() if file.name.endswith(".toml")}
    )


def read_sentences(texts: Mapping[str, str]) -> Mapping[str, str]:
    """
    Sentences by id from the texts of several files.

    Args:
        texts: Text of each file by its name.

    Raises:
        SentenceError: When an id stands in two files, or something else than a text stands behind an id.
    """
    found: dict[str, str] = {}
    for name, text in sorted(texts.items()):
        for sentence_id, sentence in _read(text).items():
            if not isinstance(sentence, str):
                raise SentenceError(f"{name}: {sentence_id!r} must be a text; write the whole id in quotes")
            if sentence_id in found:
                raise SentenceError(f"{name}: {sentence_id!r} stands in another file already")
            found[sentence_id] = sentence
    return MappingProxyType(found)


def _read(text: str) -> Mapping[str, object]:
    r"""
    What stands in a file; plain ones are read in a tenth of the time, as the first page of a start waits for all of them.

    >>> _read('"length.least" = "At least {least}."\n')
    {'length.least': 'At least {least}.'}
    """
    if _PLAIN.fullmatch(text):
        pairs = _SENTENCE.findall(text)
        found = dict(pairs)
        if len(found) == len(pairs):
            return found
    return tomllib.loads(text)


def placeholders(sentence: str) -> frozenset[str]:
    """
    Names that a sentence wants filled in.

    >>> sorted(placeholders("{given} is below {least}."))
    ['given', 'least']
    """
    return frozenset(PLACEHOLDER.findall(sentence))
