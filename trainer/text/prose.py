"""
How prose reads: words that are not spelled right, sentences that are too long or too hard, names of brands.

Spelling and syllables come from libraries of the extra `writing`; where that is not installed, `has_libraries` says so
and only brands are looked for. The list of brands holds hashes, so that it names none itself.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import cache
from hashlib import sha256
from importlib.resources import files
from importlib.util import find_spec
from itertools import pairwise
from typing import Any

__all__ = ["brand_hash", "brands", "grade", "has_libraries", "longest_sentence", "misspelled", "readable"]

CODE = re.compile(r"`[^`]*`")
ADDRESS = re.compile(r"\]\([^)]*\)")
PLACE = re.compile(r"\{\{.*?\}\}", re.DOTALL)
WORD = re.compile(r"[A-Za-z]+(?:['’][A-Za-z]+)?")
SENTENCE_ENDS = re.compile(r"(?<=[.!?:;])\s+|\n\s*\n|\n(?=\s*(?:[-*|#]|\d+\.))")
#: Letters and digits in one word: names of sizes, sections and types.
MIXED = re.compile(r"\S*(?:\d[A-Za-z]|[A-Za-z]\d)\S*")


def has_libraries() -> bool:
    """Whether the extra `writing` is installed."""
    return all(find_spec(name) for name in ("spellchecker", "pyphen"))


def readable(markdown: str) -> str:
    """The prose as it is read: a word for each place, no code and no addresses."""
    return ADDRESS.sub("]", CODE.sub(" ", PLACE.sub("seven", markdown)))


def misspelled(text: str) -> list[str]:
    """Words that neither the dictionary nor the list of the trade's words has, each once, in order; names in capitals pass."""
    words = [word for word in WORD.findall(MIXED.sub(" ", readable(text))) if not word.isupper() and len(word) > 1]
    lower = dict.fromkeys(word.lower().replace("’", "'").removesuffix("'s") for word in words)
    unknown = _dictionary().unknown([word for word in lower if word not in _own_words()])
    return [word for word in lower if word in unknown]


def brands(text: str) -> list[str]:
    """Words, or two words that stand beside each other, that are on the list of brands."""
    words = [word.lower() for word in WORD.findall(readable(text))]
    tried = [*dict.fromkeys(words), *(" ".join(pair) for pair in pairwise(words))]
    return [word for word in tried if brand_hash(word) in _brand_hashes()]


def brand_hash(word: str) -> str:
    """What stands in the list for a brand's name of one or two words."""
    return sha256(" ".join(word.lower().split()).encode()).hexdigest()[:16]


def longest_sentence(text: str) -> Sequence[str]:
    """The words of the longest sentence; lines of a list or a table are sentences of their own."""
    return max(_sentences(text), key=len, default=[])


def grade(text: str) -> float:
    """
    Years of school that the prose asks for: 0.39 x words per sentence + 11.8 x syllables per word - 15.59.

    The Flesch-Kincaid grade level, published in a report of the US Naval Technical Training Command in 1975; the
    coefficients are from memory.
    """
    sentences = _sentences(text)
    words = [word for sentence in sentences for word in sentence]
    if not words:
        return 0.0
    syllables = sum(_syllables(word) for word in words)
    return 0.39 * len(words) / len(sentences) + 11.8 * syllables / len(words) - 15.59


def _sentences(text: str) -> list[list[str]]:
    return [words for part in SENTENCE_ENDS.split(readable(text)) if (words := WORD.findall(part))]


def _syllables(word: str) -> int:
    return len(_hyphenation().positions(word.lower())) + 1


@cache
def _dictionary() -> Any:
    from spellchecker import SpellChecker  # noqa: PLC0415 - of the extra `writing`

    return SpellChecker()


@cache
def _hyphenation() -> Any:
    from pyphen import Pyphen  # noqa: PLC0415 - of the extra `writing`

    return Pyphen(lang="en_US")


@cache
def _own_words() -> frozenset[str]:
    return frozenset(_lines("trade_words.txt"))


@cache
def _brand_hashes() -> frozenset[str]:
    return frozenset(_lines("brand_hashes.txt"))


def _lines(name: str) -> Iterator[str]:
    text = files("trainer.text").joinpath("english", name).read_text("utf-8")
    return (line.strip() for line in text.splitlines() if line.strip() and not line.startswith("#"))
