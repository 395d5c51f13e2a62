"""The words of a question file held against the dictionary, the list of brands and the reading level."""

from __future__ import annotations

from trainer.problems.errors import ContentError
from trainer.problems.parts import Family
from trainer.problems.texts import prose_of
from trainer.text.reading import amiss_in_words, hard_to_read

__all__ = ["language"]


def language(family: Family) -> list[ContentError]:
    """What is amiss with the words of a family, each finding with its line."""
    return [
        ContentError(family.file, family.line(*path), ".".join(map(str, path)), given, accepted)
        for path, text in prose_of(family.shape.model_dump(by_alias=True, exclude_defaults=True))
        for given, accepted in (*amiss_in_words(text), *hard_to_read(text))
    ]
