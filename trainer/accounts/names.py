"""How people are called: the name they sign in with, and the name that others read."""

from __future__ import annotations

import re
import unicodedata

from trainer.calc.message import InputError, Message

__all__ = ["LONGEST", "fold_sign_in_name", "is_sign_in_name", "read_display_name", "read_sign_in_name"]

SIGN_IN_NAME = re.compile(r"[a-z][a-z0-9]*(?:[._-][a-z0-9]+)*")
SHORTEST, LONGEST = 3, 40
LONGEST_DISPLAY_NAME = 80
LONGEST_READ = 400
"""Longer texts are no names, and are not even looked at."""

INVISIBLE = {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}
"""Unicode categories that would let a name turn the text around it, or look like another one."""


def fold_sign_in_name(text: str) -> str:
    """
    The form in which a sign-in name is stored and looked up, whatever a phone's keyboard made of it.

    Capitals, accents and full-width letters are folded, space around is dropped. What is left may still be no name.

    >>> fold_sign_in_name(" José.GARCÍA ")
    'jose.garcia'
    """
    apart = unicodedata.normalize("NFKD", text[:LONGEST_READ].casefold())
    bare = "".join(letter for letter in apart if not unicodedata.combining(letter))
    return bare.casefold().strip()


def is_sign_in_name(folded: str) -> bool:
    """Whether a folded text can be anybody's name; one that cannot is not worth asking the database for."""
    return SHORTEST <= len(folded) <= LONGEST and SIGN_IN_NAME.fullmatch(folded) is not None


def read_sign_in_name(text: str) -> str:
    """
    A new sign-in name.

    Plain letters, digits and single `.`, `_` or `-` between them, so that no two names look alike.

    Returns:
        The folded name, 3 to 40 characters.

    Raises:
        InputError: With `field` "sign_in_name", when it cannot be one.
    """
    folded = fold_sign_in_name(text)
    if not folded:
        raise _bad_sign_in_name("empty", text)
    if not SHORTEST <= len(folded) <= LONGEST:
        raise _bad_sign_in_name("length", text)
    if not is_sign_in_name(folded):
        raise _bad_sign_in_name("characters", text)
    return folded


def _bad_sign_in_name(what: str, text: str) -> InputError:
    return InputError(
        Message(f"accounts.sign-in-name-{what}"),
        given=text[:LONGEST_READ],
        accepted=Message("accounts.sign-in-name-accepted"),
        example="kim.lee",
        field="sign_in_name",
    )


def read_display_name(text: str) -> str:
    """
    The name that others read, in any script.

    Returns:
        The name with its white space squeezed, 1 to 80 characters, at least one of them a letter.

    Raises:
        InputError: With `field` "display_name", when it cannot be one.

    >>> read_display_name("  Kim   Lee ")
    'Kim Lee'
    """
    name = " ".join(unicodedata.normalize("NFC", text[:LONGEST_READ]).split())
    if not any(letter.isalpha() for letter in name):
        raise _bad_display_name("empty", text)
    if len(name) > LONGEST_DISPLAY_NAME:
        raise _bad_display_name("length", text)
    if any(unicodedata.category(letter) in INVISIBLE for letter in name):
        raise _bad_display_name("characters", text)
    return name


def _bad_display_name(what: str, text: str) -> InputError:
    return InputError(
        Message(f"accounts.display-name-{what}"),
        given=text[:LONGEST_READ],
        accepted=Message("accounts.display-name-accepted"),
        example="Kim Lee",
        field="display_name",
    )
