"""
Reads a bender shoe: a trade size for a usual hand bender, or a shop's own figures behind the size.

`3/4` · `3/4 take-up 6-1/8 in radius 5.4 in` · `1/2 take-up 5 in gain 2-5/8 in back 2-3/8 in`. What is left out is taken
from the usual shoe of that size. `gain` is the outside gain of a 90 and stands for the radius; `back` is how far the
back-of-bend mark stands from the take-up mark.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction

from msgspec.structs import replace

from trainer.calc.arcs import radius_of_gain
from trainer.calc.length import read_length
from trainer.calc.message import InputError, Message
from trainer.calc.number import Refusal
from trainer.calc.shoes import DEFAULT_SHOES, Shoe

__all__ = ["read_shoe"]

LONGEST_TEXT = 120

#: No hand bender's figures lie beyond [in].
LONGEST_FIGURE = 60.0

_EXAMPLE = "3/4 take-up 6 in radius 5.4 in"
_WORDS = re.compile(r"[ ,;]*\b(take[ -]?up|outside gain|gain|centreline radius|radius|back[ -]mark|back)\b[ =:]*")
_MEANT = {"takeup": "take-up", "take up": "take-up", "outside gain": "gain", "centreline radius": "radius"}


def read_shoe(text: str) -> Shoe:
    """
    Read a shoe.

    Args:
        text: As typed, at most 120 characters.

    Raises:
        InputError: When it names no trade size with a hand shoe, or its figures can't be those of a shoe.

    >>> read_shoe("3/4 take-up 6-1/8 in, gain 3-1/4 in").take_up
    6.125
    >>> str(read_shoe('1/2"'))
    '1/2'
    """
    refusal = Refusal(text, Message("shoe.accepted", {"choices": ", ".join(DEFAULT_SHOES)}), _EXAMPLE)
    if len(text) > LONGEST_TEXT:
        raise refusal.because("number.too-long", limit=LONGEST_TEXT)
    size, *told = _WORDS.split(" ".join(text.lower().split()))
    usual = DEFAULT_SHOES[_size(size, refusal)]
    return _shoe(usual, _figures(told, refusal), refusal)


def _size(text: str, refusal: Refusal) -> str:
    try:
        inches = read_length(text).inches
    except InputError as error:
        raise refusal.because("shoe.size", problem=error.reason) from None
    for size in DEFAULT_SHOES:
        if sum(map(Fraction, size.split("-"))) == inches:
            return size
    raise refusal.because("input.no-choice")


def _figures(told: list[str], refusal: Refusal) -> dict[str, float]:
    """Words and lengths by turns."""
    figures: dict[str, float] = {}
    for word, length in zip(told[::2], told[1::2], strict=True):
        name = _MEANT.get(word, "back" if word.startswith("back") else word)
        if name in figures:
            raise refusal.because("shoe.twice", word=name)
        figures[name] = _figure(name, length.strip(" ,;"), refusal)
    if {"gain", "radius"} <= figures.keys():
        raise refusal.because("shoe.gain-or-radius")
    return figures


def _figure(name: str, text: str, refusal: Refusal) -> float:
    try:
        inches = float(read_length(text).inches)
    except InputError as error:
        raise refusal.because("shoe.figure", word=name, problem=error.reason) from None
    if not 0 < inches <= LONGEST_FIGURE:
        raise refusal.because("shoe.out-of-range", word=name)
    return inches


def _shoe(usual: Shoe, figures: Mapping[str, float], refusal: Refusal) -> Shoe:
    radius = figures.get("radius", usual.radius)
    if "gain" in figures:
        radius = radius_of_gain(figures["gain"], usual.outside_diameter)
    take_up = figures.get("take-up", usual.take_up)
    if radius < usual.outside_diameter or take_up < usual.outside_diameter:
        raise refusal.because("shoe.too-small")
    return replace(usual, take_up=take_up, radius=radius, own_back_mark=figures.get("back"))
