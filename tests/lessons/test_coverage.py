"""What is taught and asked where: facts in words, tables of the core, and what is open."""

import pytest

from trainer.lessons.coverage import coverage, load_facts, uncovered
from trainer.lessons.read import load_lessons
from trainer.problems.errors import ContentError
from trainer.problems.shelf import content_root

LESSONS = load_lessons(content_root() / "lessons")

FACT = """
[[fact]]
id = "shrink"
unit = "bends"
fact = "An offset comes short by its shrink."
source = "right-triangle geometry"
checked = "computed"
"""


@pytest.fixture
def facts_of(tmp_path):
    def facts(text):
        (tmp_path / "coverage.toml").write_text(text, "utf-8")
        return load_facts(tmp_path)

    return facts


def of(name, entries):
    return next(entry for entry in entries if entry.name == name)


def test_a_fact_without_lesson_family_or_reason_is_open_and_named_with_its_line(facts_of, families):
    facts = facts_of(FACT)

    found = [error for error in uncovered(facts, LESSONS, families) if error.key.startswith("shrink")]

    assert of("shrink", coverage(facts, LESSONS, families)).is_open
    assert [(error.line, error.key) for error in found] == [(2, "shrink.taught"), (2, "shrink.asked")]


def test_a_fact_with_both_or_with_a_reason_is_not_open(facts_of, families):
    facts = facts_of(FACT + 'taught = ["offset-bends"]\nnot_asked = "it is asked by its number"\n')

    assert not of("shrink", coverage(facts, LESSONS, families)).is_open
    assert not [error for error in uncovered(facts, LESSONS, families) if error.key.startswith("shrink")]


@pytest.mark.parametrize("key", ["taught", "asked"])
def test_a_lesson_or_a_family_that_there_is_not_is_named(facts_of, families, key):
    facts = facts_of(FACT + f'{key} = ["no-such-thing"]\n')

    assert "'no-such-thing'" in {error.given for error in uncovered(facts, LESSONS, families)}


def test_a_reason_beside_a_lesson_is_refused(facts_of, families):
    facts = facts_of(FACT + 'taught = ["offset-bends"]\nnot_taught = "nobody needs it"\nnot_asked = "so"\n')

    assert "shrink.not_taught" in {error.key for error in uncovered(facts, LESSONS, families)}


def test_a_fact_that_stands_twice_is_refused(facts_of, families):
    facts = facts_of(FACT + FACT)

    assert any("stands twice" in error.given for error in uncovered(facts, LESSONS, families))


def test_a_reason_for_a_table_that_the_core_does_not_have_is_refused(facts_of, families):
    facts = facts_of('[[table]]\ntable = "bends.nothing"\nnot_asked = "so"\n')

    assert "'bends.nothing'" in {error.given for error in uncovered(facts, LESSONS, families)}


def test_a_table_is_met_where_a_calculation_or_a_named_number_rests_on_it(facts_of, families):
    entry = of("bends.offset_constants", coverage(facts_of(FACT), LESSONS, families))

    assert "offset-bends" in entry.taught
    assert "offset-spacing" in entry.asked
    assert "raceway-fill" not in entry.taught


def test_published_figures_are_no_facts_to_teach(facts_of, families):
    assert not [entry for entry in coverage(facts_of(FACT), LESSONS, families) if entry.name.startswith("annex_c")]


def test_a_misspelled_key_is_named_with_its_line(facts_of):
    with pytest.raises(ContentError, match=r"coverage.toml:3: fact.0.idd: .*no such key"):
        facts_of(FACT.replace("id =", "idd =").replace('"shrink"', '"shrink"\nid = "shrink"'))


def test_nothing_of_the_trade_is_left_out_without_a_reason(families):
    assert uncovered(load_facts(content_root() / "lessons"), LESSONS, families) == []
