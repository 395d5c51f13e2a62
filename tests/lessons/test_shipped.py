"""The lessons that come with the program."""

from collections import Counter

import pytest

from trainer.lessons.html import lesson_html
from trainer.lessons.model import Cautions, Drawing, TryIt, Work
from trainer.lessons.read import check_references, load_lessons
from trainer.problems.shelf import content_root

LESSONS = load_lessons(content_root() / "lessons")


def test_three_lessons_are_there():
    assert {"cutting-and-deburring", "connectors-where-each-belongs", "offset-bends"} <= set(LESSONS)


@pytest.mark.parametrize("lesson", LESSONS.values(), ids=LESSONS)
def test_its_references_lead_somewhere(lesson, families, skills):
    check_references(lesson, families, skills)


@pytest.mark.parametrize("lesson", LESSONS.values(), ids=LESSONS)
def test_it_is_short_drawn_worked_tried_and_cautioned(lesson):
    kinds = Counter(type(block) for block in lesson.blocks)

    assert kinds[Drawing] >= 3
    assert kinds[Work] >= 1
    assert 2 <= kinds[TryIt] <= 4
    assert kinds[Cautions] >= 1
    assert 3 <= lesson.minutes <= 6
    # 200 words a minute is slow reading.
    assert len(lesson.body.split("+++")[2].split()) <= 200 * lesson.minutes


@pytest.mark.parametrize("lesson", LESSONS.values(), ids=LESSONS)
def test_it_says_what_goes_wrong_and_how_one_knows_that_it_is_right(lesson):
    assert "## What goes wrong at first" in lesson.body
    assert "## How you know that it is right" in lesson.body


@pytest.mark.parametrize("edition", ["2017", "2020", "2023"])
@pytest.mark.parametrize("lesson", LESSONS.values(), ids=LESSONS)
def test_every_block_can_be_shown_under_every_edition(lesson, families, edition):
    blocks = lesson_html(lesson, families, edition=edition)

    assert len(blocks) == len(lesson.blocks)
    for block in blocks:
        if block.kind == "drawing":
            assert block.svg.startswith("<svg")
        if block.kind == "prose":
            assert "{{" not in block.html
        if block.kind == "work":
            assert block.steps


@pytest.mark.parametrize("lesson", LESSONS.values(), ids=LESSONS)
def test_every_family_that_names_a_lesson_is_tried_in_one(lesson, families):
    own = {family.id for family in families.values() if family.lesson == lesson.id}

    assert set(lesson.families) <= set(families)
    assert own & set(lesson.families)
