"""Signs that nobody sees."""

from __future__ import annotations

import unicodedata

import html5lib
import pytest

from trainer.text.signs import hidden_sign, without_hidden


def test_what_is_left_may_stand_on_a_page():
    """All of Unicode, held against the parser that tests hold every page to."""
    kept = "".join(without_hidden(chr(point)) for point in range(0x110000))
    parser = html5lib.HTMLParser()
    parser.parse(f"<!DOCTYPE html><title>x</title><textarea>{kept.replace('<', '').replace('&', '')}</textarea>")

    assert {name for _, name, _ in parser.errors} == set()


@pytest.mark.parametrize(
    "text", ["3/4 in\n\t12 in", "José Núñez", "\U0001f469\u200d\U0001f527", "नमस्ते", "a\u200cb", "½"]
)
def test_what_is_seen_or_joins_letters_stays(text):
    assert without_hidden(text) == text
    assert not hidden_sign(text)


@pytest.mark.parametrize("sign", ["\x00", "\x1b", "\x7f", "\x9b", "\u202a", "\u202e", "\u2067", "\ud800", "\ufffe"])
def test_what_is_not_goes_and_is_named(sign):
    assert without_hidden(f"6{sign} in") == "6 in"
    assert hidden_sign(f"6{sign} in") == f"U+{ord(sign):04X}"


@pytest.mark.parametrize("end", ["\r\n", "\r", "\n", "\x0b", "\x0c", "\x85", "\u2028", "\u2029"])
def test_each_end_of_a_line_stays_one(end):
    assert without_hidden(f"one{end}two") == "one\ntwo"


def test_nothing_turns_the_direction_of_a_line():
    kept = [
        sign
        for sign in map(chr, range(0x110000))
        if unicodedata.bidirectional(sign) in TURNING and without_hidden(sign)
    ]

    assert kept == []


TURNING = {"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"}
