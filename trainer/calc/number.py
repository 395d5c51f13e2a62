"""
Numbers as people type them, taken apart before any number is built.

A typed text is first measured and matched against digit patterns; only what matches becomes a `Fraction`, so that no
text, however hostile, costs more than a moment. Reading lengths, angles and counts stands on this.
"""

from __future__ import annotations

import re
from fractions import Fraction

from msgspec import Struct

from trainer.calc.message import InputError, Message

__all__ = ["LONGEST_TEXT", "Refusal", "Segment", "segments"]

#: Characters that a typed number with its unit may have.
LONGEST_TEXT = 40

#: What keyboards and editors make of quotation marks, dashes and slashes, and what is meant.
_MEANT = str.maketrans(
    {
        **dict.fromkeys("‘’‛′ʹ´`ʼ＇", "'"),
        **dict.fromkeys("“”„″ʺ＂", '"'),
        **dict.fromkeys("‐‑‒–—−", "-"),
        **dict.fromkeys("⁄∕", "/"),
        "º": "°",
    }
)

_VULGAR = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5",
    "⅙": "1/6", "⅚": "5/6", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip

_SEGMENT = re.compile(r"([0-9.][0-9./ -]*)([^0-9.]*)")
_FRACTION = re.compile(r"(?:([0-9]{1,9})(?: ?- ?| ))?([0-9]{1,9}) ?/ ?([0-9]{1,9})")
#: Commas that can only part thousands: before every group of three digits, none after a leading 0, in no fraction.
_THOUSANDS = re.compile(r"(?<![0-9.,/-])[1-9][0-9]{0,2}(?:,[0-9]{3})+(?![0-9,]| ?/)")
_DECIMAL = re.compile(r"[0-9]{1,9}\.?|[0-9]{0,9}\.[0-9]{1,9}")


class Refusal(Struct, frozen=True):
    """
    How a reader refuses: everything of an InputError but the reason.

    Args:
        given: The text as it was typed.
        accepted: What would be taken.
        example: One text that would be taken.
    """

    given: str
    accepted: Message
    example: str

    def because(self, reason: str, **params: object) -> InputError:
        """The error with this reason."""
        return InputError(Message(reason, params), given=self.given, accepted=self.accepted, example=self.example)


class Segment(Struct, frozen=True):
    """A number with the unit text that follows it ("" when none does); `whole` when it has no fraction or point."""

    number: Fraction
    unit: str
    whole: bool


def segments(text: str, refusal: Refusal) -> list[Segment]:
    """
    The numbers in a text, each with its unit text: `3' 4-1/2"` has two.

    Args:
        text: As typed.
        refusal: How to refuse it.

    Raises:
        InputError: When the text is empty, too long, below zero or no number that people write.

    >>> segments("4 ½ in", Refusal("4 ½ in", Message("length.accepted"), "40-1/2 in"))
    [Segment(number=Fraction(9, 2), unit='in', whole=False)]
    """
    if len(text) > LONGEST_TEXT:
        raise refusal.because("number.too-long", limit=LONGEST_TEXT)
    plain = _plain(text)
    _refuse_at_sight(plain, refusal)
    found = _SEGMENT.findall(plain)
    if "".join(number + unit for number, unit in found) != plain:
        raise refusal.because("number.not-understood")
    return [_segment(number, unit, refusal) for number, unit in found]


def _plain(text: str) -> str:
    """The text in small letters: plain quotation marks, dashes, slashes, fractions, single spaces, no thousands commas."""
    if not text.isascii() or "`" in text:
        text = text.translate(_MEANT)
        for sign, digits in _VULGAR.items():
            text = text.replace(sign, f" {digits}")
    text = text.lower().replace("''", '"')
    text = re.sub(r"(?<=[a-z])\.(?![0-9])", "", text)
    text = _THOUSANDS.sub(lambda grouped: grouped[0].replace(",", ""), text)
    text = re.sub(r"(?<=in|mm|cm)[23]\b", lambda power: "²³"[int(power[0]) - 2], text)
    return " ".join(text.split())


def _refuse_at_sight(plain: str, refusal: Refusal) -> None:
    """Name the reasons that can be seen without taking the text apart."""
    if not plain:
        raise refusal.because("number.empty")
    if plain.startswith("-"):
        raise refusal.because("number.below-zero")
    if "," in plain:
        raise refusal.because("number.comma")
    if re.search(r"[0-9.]e[+-]?[0-9]", plain):
        raise refusal.because("number.exponent")
    if not re.search(r"[0-9]", plain):
        raise refusal.because("number.no-digits")
    if re.search(r"[0-9]{10}", plain):
        raise refusal.because("number.too-many-digits")


def _segment(number: str, unit: str, refusal: Refusal) -> Segment:
    """One number with its unit; a dash between the two ("1/2-inch", "3'-4") belongs to neither."""
    unit = re.sub(r"(?: |^)and$", "", unit.strip(" -")).strip(" -")
    number = number.strip(" -") if unit else number.strip()
    return Segment(_fraction(number, refusal), unit, number.isdigit())


def _fraction(number: str, refusal: Refusal) -> Fraction:
    """The value of `12`, `12.5`, `.5`, `5/8`, `12 5/8` or `12-5/8`."""
    if _DECIMAL.fullmatch(number):
        return Fraction(number.removesuffix("."))
    match = _FRACTION.fullmatch(number)
    if not match:
        raise refusal.because("number.not-understood")
    whole, numerator, denominator = match[1], int(match[2]), int(match[3])
    if denominator == 0:
        raise refusal.because("number.zero-denominator", numerator=numerator)
    if whole is None:
        return Fraction(numerator, denominator)
    if numerator >= denominator:
        raise refusal.because("number.fraction-over-one", fraction=f"{numerator}/{denominator}")
    return int(whole) + Fraction(numerator, denominator)
