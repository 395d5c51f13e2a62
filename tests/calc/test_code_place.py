from __future__ import annotations

import pytest

from trainer.calc.catalogue import CATALOGUE
from trainer.calc.code_place import EDITIONS, SUBJECTS, code_place
from trainer.calc.message import Message
from trainer.calc.tables import table as table_of
from trainer.text.words import say


@pytest.mark.parametrize(
    ("subject", "edition", "reference"),
    [
        ("straps", "2017", "358.30(A)"),
        ("bend-degrees", "2023", "358.24(B)"),
        ("bend-degrees", "2020", "358.26"),
        ("bend-degrees", "2017", "358.26"),
        ("box-allowance", "2023", "Table 314.16(B)(1)"),
        ("box-allowance", "2020", "Table 314.16(B)"),
        ("ampacity", "2023", "Table 310.16"),
        ("ampacity", "2020", "Table 310.16"),
        ("ampacity", "2017", "Table 310.15(B)(16)"),
        ("hot-places", "2017", "Table 310.15(B)(2)(a)"),
        ("many-conductors", "2017", "Table 310.15(B)(3)(a)"),
        ("raceway-area", "2023", "Chapter 9, Table 4"),
    ],
)
def test_each_edition_has_its_own_number(subject, edition, reference):
    assert code_place(subject, edition).reference == reference


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("subject", SUBJECTS)
def test_the_numbers_are_those_of_the_reference(subject, edition):
    place = code_place(subject, edition)

    if place.table_number:
        assert (place.chapter, place.article, place.section, place.subsection) == (9, 0, 0, 0)
        assert place.reference == f"Chapter 9, Table {place.table_number}"
        return
    number = place.reference.removeprefix("Table ")
    assert number.startswith(f"{place.article}.{place.section}")
    assert place.chapter == int(f"{place.article}"[0])
    letter = number.removeprefix(f"{place.article}.{place.section}")[1:2]
    assert place.subsection == ("ABCD".index(letter) + 1 if letter else 0)
    assert place.is_table == place.reference.startswith("Table")


@pytest.mark.parametrize("subject", SUBJECTS)
def test_every_subject_has_its_words(subject):
    assert say(Message(f"code_place.subject.{subject}", {}))


def test_a_section_that_has_moved_is_told_of_with_the_editions():
    _, steps = CATALOGUE["code_place"].trace({"subject": "bend-degrees", "edition": "2020"})

    told = [say(step.note) for step in steps if step.note]
    assert "In the 2023 edition it is 358.24(B)." in told
    assert not any("2017" in line for line in told)


@pytest.mark.parametrize(
    ("subject", "table", "group"), [("straps", "support", "emt"), ("bend-degrees", "bends", "total")]
)
def test_where_the_core_takes_a_rule_from_is_where_it_sends_people(subject, table, group):
    assert code_place(subject).reference.split("(")[0] in table_of(table)[group]["source"]


def test_sections_of_bend_totals_agree():
    sections = table_of("bends")["total"]["sections"]
    assert {edition: code_place("bend-degrees", edition).reference for edition in EDITIONS} == sections


def test_what_is_not_in_the_book_is_refused(refused):
    assert refused(code_place, "donuts").field == "subject"
    assert refused(code_place, "straps", "1999").field == "edition"
