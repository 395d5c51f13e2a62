"""The words of a lesson held against the dictionary, the list of brands and the reading level."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator

from trainer.lessons.directives import ARROW
from trainer.lessons.model import FENCE, Lesson
from trainer.problems.errors import ContentError
from trainer.problems.lines import key_lines, line_of
from trainer.problems.texts import prose_of
from trainer.text.reading import amiss_in_words, hard_to_read

__all__ = ["lesson_language"]


def lesson_language(lesson: Lesson) -> list[ContentError]:
    """What is amiss with the words of a lesson, each finding with its line."""
    toml, body = _halves(lesson.body)
    lines = key_lines(toml)
    said = [(line_of(lines, path), text) for path, text in prose_of(tomllib.loads(toml))]
    said += list(_paragraphs(body, toml.count("\n") + 2))
    return [
        ContentError(lesson.file, line, "", given, accepted)
        for line, text in said
        for given, accepted in (*amiss_in_words(text), *hard_to_read(text))
    ]


def _halves(body: str) -> tuple[str, str]:
    """Front matter with an empty line in place of its first fence, and what follows the second."""
    _, toml, rest = body.split(f"{FENCE}\n", 2)
    return f"\n{toml}", rest


def _paragraphs(body: str, first: int) -> Iterator[tuple[int, str]]:
    """Paragraphs, lists and tables with the number of their first line; of a directive, its caption."""
    part: list[str] = []
    for number, row in enumerate([*body.splitlines(), ""], start=first):
        if row.startswith(ARROW):
            yield number, row.partition(": ")[2]
        elif row.strip():
            part.append(row)
        elif part:
            yield number - len(part), "\n".join(part)
            part = []
