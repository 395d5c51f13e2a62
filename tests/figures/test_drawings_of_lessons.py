"""The drawings that the lessons ask for, held to the same rules as all others."""

import pytest

from trainer.lessons.html import lesson_html
from trainer.lessons.read import load_lessons
from trainer.problems.shelf import content_root, load_families

LESSONS = load_lessons(content_root() / "lessons")
FAMILIES = load_families(content_root() / "questions")


@pytest.mark.parametrize("lesson", LESSONS.values(), ids=LESSONS)
def test_every_drawing_of_a_lesson_is_sound_and_has_ids_of_its_own(sound, lesson):
    drawings = [block for block in lesson_html(lesson, FAMILIES) if block.kind == "drawing"]

    names = [sound(drawing.svg).root.get("aria-labelledby") for drawing in drawings]
    assert len(names) == len(set(names))
