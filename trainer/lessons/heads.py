"""
The top of a lesson: what it is listed by. Examples, tables and prose are worked when somebody opens the lesson.

A folder whose tops are all sound is held as text; where one is not, all lessons are read at once, which finds what is
amiss.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from pathlib import Path
from types import MappingProxyType

from msgspec import Struct

from trainer.lessons.model import FENCE, USUAL_ORDER, Lesson
from trainer.lessons.read import load_lesson, load_lessons
from trainer.problems.held import Held

__all__ = ["LessonHead", "head_of", "hold_lessons"]


class LessonHead(Struct, frozen=True):
    """What a lesson is listed by; its fields are those of the lesson."""

    id: str
    title: str
    unit: str
    skills: tuple[str, ...]
    minutes: int
    order: int
    later: bool


def head_of(lesson: Lesson) -> LessonHead:
    """The head of a lesson that was read."""
    return LessonHead(
        lesson.id, lesson.title, lesson.unit, lesson.skills, lesson.minutes, lesson.order, later=lesson.later
    )


def hold_lessons(folder: Path) -> tuple[Mapping[str, LessonHead], Mapping[str, Lesson]]:
    """
    Every lesson of a folder by its id, in the order of unit, place in the unit, and id: its head, and itself when wanted.

    Args:
        folder: The folder `lessons`.

    Raises:
        ContentError: When the top of a lesson cannot be used.
    """
    texts = {path.stem: path.read_text("utf-8") for path in sorted(folder.glob("*.md"))}
    heads = [_head(text) for text in texts.values()]
    sound = [head for head, stem in zip(heads, texts, strict=True) if head is not None and head.id == stem]
    if len(sound) < len(heads):
        lessons = load_lessons(folder)
        return MappingProxyType({key: head_of(one) for key, one in lessons.items()}), lessons
    sound.sort(key=lambda head: (head.unit, head.order, head.id))

    def read(stem: str) -> Mapping[str, Lesson]:
        return {stem: load_lesson(texts[stem], f"{folder.name}/{stem}.md")}

    return MappingProxyType({head.id: head for head in sound}), Held({head.id: head.id for head in sound}, read)


def _head(text: str) -> LessonHead | None:
    """The head of a lesson; None where it cannot be used."""
    try:
        top = tomllib.loads(text.removeprefix(FENCE).partition("\n[")[0])
        return LessonHead(
            top["id"],
            top["title"],
            top["unit"],
            tuple(top["skills"]),
            top["minutes"],
            top.get("order", USUAL_ORDER),
            later=top.get("later", False),
        )
    except (tomllib.TOMLDecodeError, KeyError, TypeError):
        return None
