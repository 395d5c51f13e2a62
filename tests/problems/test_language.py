"""The words of question files."""

import pytest

from trainer.problems.family import load_family
from trainer.problems.language import language
from trainer.problems.shelf import content_root, load_families
from trainer.problems.texts import prose_of

FAMILIES = load_families(content_root() / "questions")
FILE = content_root() / "questions" / "bends" / "offset-far-mark.toml"


@pytest.mark.parametrize("family", FAMILIES.values(), ids=repr)
def test_the_words_of_a_shipped_family_are_spelled_plain_and_without_brands(family):
    assert language(family) == []


def test_a_misspelled_word_is_named_with_its_line():
    text = FILE.read_text("utf-8").replace('title = "', 'title = "Teh ', 1)

    (found,) = language(load_family(text, "questions/bends/offset-far-mark.toml"))

    assert (found.line, found.key, found.given) == (2, "title", "'teh'")


def test_what_people_read_is_found_at_any_depth_and_nothing_else():
    entry = {
        "id": "teh", "ask": {"text": "a", "kind": "b", "statements": [{"text": "c", "right": "d", "why": "e"}]},
        "phrases": {"x": {"y": "f"}}, "mistakes": [{"say": "g", "value": "h"}],
    }  # fmt: skip

    assert [text for _, text in prose_of(entry)] == ["a", "c", "e", "f", "g"]
