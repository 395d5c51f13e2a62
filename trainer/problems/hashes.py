"""
The two hashes of a family: *rules* decide about right and wrong, *words* are what people read.

Statistics and difficulty hang on the rules, so a mended typo, a new hint or a translation resets nothing.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Set as AbstractSet
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from trainer.problems.shape import FamilyShape

__all__ = ["rules_hash", "words_hash"]

#: Keys of the file that only people read; everything else is rules.
WORDS = frozenset({"title", "lesson", "level", "later", "figure", "sources", "phrases", "hints"})


def rules_hash(shape: FamilyShape) -> str:
    """SHA-256 of the rules as 64 hexadecimal digits."""
    return _hash(_split(shape)[0])


def words_hash(shape: FamilyShape) -> str:
    """SHA-256 of the words as 64 hexadecimal digits."""
    return _hash(_split(shape)[1])


def _split(shape: FamilyShape) -> tuple[dict[str, Any], dict[str, Any]]:
    """
    The file as plain values, parted into rules and words; entries of lists are named by their place.

    Keys left at their default stay out, so that a key added to the shape later changes no old hash.
    """
    everything = shape.model_dump(mode="json", by_alias=True, exclude_defaults=True)
    words: dict[str, Any] = _take(everything, WORDS)
    ask = everything["ask"]
    words["ask"] = _take(ask, {"text"})
    words["statements"] = [_take(entry, {"text", "value", "why"}) for entry in ask.get("statements", [])]
    if "steps" in ask:
        words["steps"] = [_take(entry, {"text", "why"}) for entry in ask["steps"]]
    words["mistakes"] = [_take(entry, {"did", "say"}) for entry in everything.get("mistakes", [])]
    return everything, words


def _take(part: dict[str, Any], keys: AbstractSet[str]) -> dict[str, Any]:
    """Move these keys out of a table."""
    return {key: part.pop(key) for key in sorted(keys) if key in part}


def _hash(value: object) -> str:
    text = json.dumps(value, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()
