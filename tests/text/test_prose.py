"""Spelling, brands, sentences and reading grade of prose."""

import pytest

from trainer.text.prose import _brand_hashes, brand_hash, brands, grade, longest_sentence, misspelled, readable
from trainer.text.reading import HIGHEST_GRADE, LONGEST_SENTENCE, amiss_in_words, hard_to_read


def test_a_slip_of_the_keys_is_found_and_a_word_of_the_trade_is_not():
    assert misspelled("Deburr the tube, then measrue the raceway's bore.") == ["measrue"]


@pytest.mark.parametrize(
    "text", ["3 #12 THHN in 1/2 EMT", "`kerf_hnad`", "{{ depht | length }}", "LB, 4x4, 10ft", "it's"]
)
def test_names_code_places_and_numbers_are_no_misspellings(text):
    assert misspelled(text) == []


def test_code_and_addresses_are_not_read():
    assert readable("See [the table](https://example.org/x) and `a`: {{ b | c }}").split() == [
        "See", "[the", "table]", "and", ":", "seven",
    ]  # fmt: skip


@pytest.fixture
def a_brand(monkeypatch):
    monkeypatch.setattr("trainer.text.prose._brand_hashes", lambda: {brand_hash("Made-up"), brand_hash("acmeish")})


@pytest.mark.usefixtures("a_brand")
@pytest.mark.parametrize("text", ["an Acmeish bender", "ACMEISH", "the *acmeish*"])
def test_a_brand_is_found_in_any_case(text):
    assert brands(text) == ["acmeish"]


def test_a_brand_of_two_words_is_found_with_space_or_hyphen(monkeypatch):
    monkeypatch.setattr("trainer.text.prose._brand_hashes", lambda: {brand_hash("grip good")})

    assert brands("use Grip-Good pliers") == ["grip good"]
    assert brands("a good grip") == []


def test_the_list_of_brands_is_there_and_names_none():
    assert len(_brand_hashes()) > 50
    assert all(len(line) == 16 and set(line) <= set("0123456789abcdef") for line in _brand_hashes())


def test_the_longest_sentence_is_found_over_lists_and_paragraphs():
    assert longest_sentence("One two. Three four five.\n\n- six seven\n- eight") == ["Three", "four", "five"]


def test_long_words_and_sentences_ask_for_more_school():
    easy = "Cut the tube. Take off the burr. Look at the end."
    hard = "Subsequent installation of electrical metallic tubing necessitates considerable preliminary calculation."

    assert grade(easy) < 3
    assert grade(hard) > 12
    assert grade("") == 0


def test_what_is_amiss_is_said_with_what_is_accepted():
    assert [given for given, _ in amiss_in_words("the bendre")] == ["'bendre'"]
    assert not [*hard_to_read("Cut it. " * 40)]
    assert next(given for given, _ in hard_to_read("on " * (LONGEST_SENTENCE + 1))).startswith("a sentence of 37 words")
    assert any(
        given.startswith("prose of reading grade") and f"grade {HIGHEST_GRADE:g}" in accepted
        for given, accepted in hard_to_read("Considerable preliminary calculation necessitates experience. " * 12)
    )


def test_without_the_libraries_only_brands_are_looked_for(monkeypatch):
    monkeypatch.setattr("trainer.text.reading.has_libraries", lambda: False)

    assert not [*amiss_in_words("the bendre")]
    assert not [*hard_to_read("Considerable preliminary calculation necessitates experience. " * 12)]
