"""What is amiss with a piece of prose, as words for those who write it."""

from __future__ import annotations

from collections.abc import Iterator

from trainer.text.prose import brands, grade, has_libraries, longest_sentence, misspelled

__all__ = ["HIGHEST_GRADE", "LONGEST_SENTENCE", "amiss_in_words", "hard_to_read"]

#: Years of school that any lesson or question may ask for, and words that a sentence may have.
HIGHEST_GRADE, LONGEST_SENTENCE = 8.0, 36
#: Words from which on a grade says something: a short question's figure jumps with every word.
ENOUGH_WORDS = 40


def amiss_in_words(text: str) -> Iterator[tuple[str, str]]:
    """Pairs of what was given and what is accepted: brands, and misspelled words where the libraries are installed."""
    for word in brands(text):
        yield f"{word!r}, a brand", "a word that says what the thing is or does"
    if has_libraries():
        for word in misspelled(text):
            yield f"{word!r}", "a word in the dictionary or in trainer/text/english/trade_words.txt"


def hard_to_read(text: str) -> Iterator[tuple[str, str]]:
    """Pairs of what was given and what is accepted: a sentence too long, prose for too many years of school."""
    longest = longest_sentence(text)
    if len(longest) > LONGEST_SENTENCE:
        given = f"a sentence of {len(longest)} words, {' '.join(longest[:6])!r} ..."
        yield given, f"sentences of at most {LONGEST_SENTENCE} words"
    if has_libraries() and len(text.split()) >= ENOUGH_WORDS and (found := grade(text)) > HIGHEST_GRADE:
        yield f"prose of reading grade {found:.1f}", f"grade {HIGHEST_GRADE:g} or lower: shorter sentences and words"
