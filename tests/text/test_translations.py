"""Sentences in another language: a pseudo-language is compiled as a translator's catalogue would be."""

from __future__ import annotations

import gettext

import pytest
from babel.messages.catalog import Catalog
from babel.messages.mofile import write_mo

from trainer.calc.message import InputError, Message, Quantity
from trainer.text import translations as module
from trainer.text.sentences import SentenceError, english
from trainer.text.translations import counted_sentence, sentence, translations
from trainer.text.words import error_text, say


@pytest.fixture
def pseudo_language(tmp_path, monkeypatch):
    """The language "xx": every sentence in brackets, but for one that its translator left out; a plural of its own."""
    catalogue = Catalog(locale="en")
    for sentence_id, text in english().items():
        if not sentence_id.startswith("unit.") and sentence_id != "check.nothing-chosen":
            catalogue.add(sentence_id, f"⟦{text}⟧")
    catalogue.add(("unit.straps.one", "unit.straps.many"), ("⟦strap⟧", "⟦straps⟧"))
    folder = tmp_path / "xx" / "LC_MESSAGES"
    folder.mkdir(parents=True)
    with (folder / "trainer.mo").open("wb") as file:
        write_mo(file, catalogue)
    monkeypatch.setattr(module, "LOCALES", tmp_path)
    translations.cache_clear()
    yield "xx"
    translations.cache_clear()


def test_a_translation_overrides_the_english_sentence_by_its_id(pseudo_language):
    assert say(Message("check.no-such-option"), pseudo_language) == "⟦That is none of the choices.⟧"
    assert say(Message("check.no-such-option"), "en") == "That is none of the choices."


def test_what_a_translator_left_out_is_said_in_english(pseudo_language):
    assert say(Message("check.nothing-chosen"), pseudo_language) == english()["check.nothing-chosen"]


def test_counted_things_take_the_plural_of_the_language(pseudo_language):
    assert counted_sentence("straps", 1, pseudo_language) == "⟦strap⟧"
    assert counted_sentence("straps", 3, pseudo_language) == "⟦straps⟧"
    assert counted_sentence("sticks", 3, pseudo_language) == "sticks"


def test_a_message_inside_a_message_is_translated_too(pseudo_language):
    error = InputError(Message("check.one-only"), given="a, b", accepted=Message("check.no-such-option"), example="a")

    assert error_text(error, pseudo_language).count("⟦") == 4


def test_a_language_without_a_catalogue_speaks_english():
    assert say(Message("check.nothing-chosen"), "es_MX") == "Nothing is chosen."


@pytest.mark.parametrize("name", ["../../etc", "en/..", "", "x", "EN", "es-MX", "a" * 40])
def test_a_name_that_is_no_language_reaches_no_file(name, monkeypatch):
    monkeypatch.setattr(gettext, "find", lambda *_args, **_kwargs: pytest.fail("looked for a file"))
    translations.cache_clear()

    assert translations(name).gettext("check.one-only") == "check.one-only"


@pytest.mark.parametrize("ask", [lambda: sentence("no.such", "en"), lambda: counted_sentence("elephants", 2, "en")])
def test_a_sentence_that_nobody_wrote_is_an_error_with_its_id(ask):
    with pytest.raises(SentenceError, match=r"no\.such|elephants"):
        ask()


def test_numbers_quantities_and_lists_are_written_for_people():
    message = Message("check.accepted-choice", {"letters": ["a", 2, 2.5, Quantity(30, "deg")]})

    assert say(message) == "one of a, 2, 2.5, 30°."


def test_a_parameter_of_another_kind_is_an_error():
    with pytest.raises(TypeError, match="parameter"):
        say(Message("check.accepted-choice", {"letters": None}))


def test_a_missing_parameter_is_an_error():
    with pytest.raises(KeyError, match="letters"):
        say(Message("check.accepted-choice"))


def an_error(given, field=None):
    return InputError(
        Message("check.one-only"),
        given=given,
        accepted=Message("check.accepted-choice", {"letters": "a"}),
        example="a",
        field=field,
    )


def test_an_error_is_one_line_with_what_was_given_why_and_what_is_accepted():
    assert error_text(an_error("a, b", "answer")) == (
        "answer: given “a, b”. More than one is chosen, and only one is asked for. Accepted: one of a. Example: a"
    )


def test_what_was_given_is_kept_to_one_short_line():
    line = error_text(an_error("x\n" * 200))

    assert "\n" not in line
    assert "…" in line
    assert len(line) < 220


def test_nothing_given_is_said_so():
    assert error_text(an_error("  ")).startswith("nothing given")
