"""
Sentences in other languages: gettext catalogues that override the English ones by id.

A catalogue stands in `locale/<language>/LC_MESSAGES/trainer.mo`; its message ids are the sentence ids. What it lacks is
said in English. Counted things use gettext's plural forms with the ids "unit.<noun>.one" and "unit.<noun>.many".
"""

from __future__ import annotations

import gettext
import re
from functools import cache
from pathlib import Path

from trainer.text.sentences import SentenceError, english

__all__ = ["LOCALES", "counted_sentence", "sentence", "translations"]

LOCALES = Path(__file__).with_name("locale")
LANGUAGE = re.compile(r"[a-z]{2,3}(_[A-Z]{2})?")


@cache
def translations(language: str) -> gettext.NullTranslations:
    """The catalogue of a language ("es", "es_MX"); one without entries where there is none or the name is no language."""
    if not LANGUAGE.fullmatch(language):
        return gettext.NullTranslations()
    return gettext.translation("trainer", LOCALES, [language], fallback=True)


def sentence(sentence_id: str, language: str) -> str:
    """The sentence with its placeholders unfilled; SentenceError when there is none of that id."""
    said = translations(language).gettext(sentence_id)
    return _english(said) if said == sentence_id else said


def counted_sentence(noun: str, number: int, language: str) -> str:
    """The form of a counted noun that goes with a number: "strap" with 1, "straps" with 2; SentenceError if unknown."""
    one, many = f"unit.{noun}.one", f"unit.{noun}.many"
    said = translations(language).ngettext(one, many, number)
    return _english(said) if said in {one, many} else said


def _english(sentence_id: str) -> str:
    try:
        return english()[sentence_id]
    except KeyError:
        raise SentenceError(f"no sentence has the id {sentence_id!r}") from None
