"""The words of lessons."""

import pytest

from trainer.lessons.language import lesson_language
from trainer.lessons.read import load_lesson, load_lessons
from trainer.problems.shelf import content_root

FOLDER = content_root() / "lessons"


@pytest.mark.parametrize("lesson", load_lessons(FOLDER).values(), ids=repr)
def test_a_shipped_lesson_is_spelled_plain_and_without_brands(lesson):
    assert lesson_language(lesson) == []


def test_misspelled_words_are_named_with_their_lines():
    text = (FOLDER / "saddles.md").read_text("utf-8")
    rows = text.replace('title = "Saddles"', 'title = "Sadles"').replace("## Four bends", "## Fuor bends").splitlines()

    found = lesson_language(load_lesson("\n".join(rows), "saddles.md"))

    assert [(error.line, error.given) for error in found] == [
        (rows.index('title = "Sadles"') + 1, "'sadles'"),
        (rows.index("## Fuor bends") + 1, "'fuor'"),
    ]


def test_a_caption_is_read_too():
    text = (FOLDER / "saddles.md").read_text("utf-8").replace(": Marks on the straight", ": Marsk on the straight")

    (found,) = lesson_language(load_lesson(text, "saddles.md"))

    assert found.given == "'marsk'"
