"""
Passwords: what may be one, how it is stored, how it is checked.

Stored with argon2id, 2 passes over 19 MiB in one thread: some 25 ms, so that a class of thirty that signs in at once on
two processors is through in well under a second.
"""

from __future__ import annotations

import secrets
import unicodedata
from enum import Enum
from functools import cached_property
from itertools import pairwise

from argon2 import Parameters, PasswordHasher, Type
from argon2.exceptions import InvalidHashError, VerificationError
from argon2.profiles import CHEAPEST

from trainer.calc.message import InputError, Message

__all__ = ["CHEAP_PASSWORDS", "SITE_PASSWORDS", "Check", "Passwords", "one_time_password", "read_new_password"]

SHORTEST, LONGEST = 10, 200
LEAST_DIFFERENT = 5
UNAMBIGUOUS = "abcdefghjkmnpqrstuvwxyz23456789"
"""Letters and digits that are not mistaken for each other when they are read out or written on paper."""

SITE_PARAMETERS = Parameters(
    type=Type.ID, version=19, salt_len=16, hash_len=32, time_cost=2, memory_cost=19 * 1024, parallelism=1
)
#: Runs over the keyboard and the like, without the digits and capitals that are hung onto them.
COMMON = frozenset(
    [
        "password",
        "passwort",
        "contraseña",
        "qwertyuiop",
        "qwerty",
        "asdfghjkl",
        "asdfgh",
        "zxcvbnm",
        "iloveyou",
        "welcome",
        "letmein",
        "changeme",
        "admin",
        "administrator",
        "abcdefghij",
        "abcdefg",
        "trainer",
        "tubingtrainer",
        "tubing",
        "conduit",
        "electrician",
        "apprentice",
        "instructor",
    ]
)


class Check(Enum):
    """What came of holding a password against a stored one."""

    WRONG = "wrong"
    RIGHT = "right"
    RIGHT_BUT_OUTDATED = "right, but stored with other parameters than today's"


class Passwords:
    """
    Stores and checks passwords with one set of parameters.

    Args:
        parameters: Of argon2.
    """

    def __init__(self, parameters: Parameters) -> None:
        self._hasher = PasswordHasher.from_parameters(parameters)

    def store(self, password: str) -> str:
        """What is kept of a password: its salted hash."""
        return self._hasher.hash(_bytes(password))

    def check(self, stored: str | None, password: str) -> Check:
        """
        Hold a password against a stored one.

        Takes as long when there is nothing stored, so that time does not tell which names exist.
        """
        usable = len(password) <= LONGEST
        held = self._hasher_accepts(stored or self._nobodys, password if usable else "")
        if stored is None or not usable or not held:
            return Check.WRONG
        return Check.RIGHT_BUT_OUTDATED if self._hasher.check_needs_rehash(stored) else Check.RIGHT

    def _hasher_accepts(self, stored: str, password: str) -> bool:
        try:
            return self._hasher.verify(stored, _bytes(password))
        except (VerificationError, InvalidHashError):
            return False

    @cached_property
    def _nobodys(self) -> str:
        return self.store(secrets.token_hex(16))


SITE_PASSWORDS = Passwords(SITE_PARAMETERS)
"""As a site stores them."""

CHEAP_PASSWORDS = Passwords(CHEAPEST)
"""For tests and invented people only: quick to store, and as quick to guess."""


def read_new_password(text: str, *, sign_in_name: str, old: str | None = None, field: str = "new_password") -> str:
    """
    A password that someone wants to use from now on.

    Args:
        text: As typed; nothing is trimmed.
        sign_in_name: The person's; it may not be the password.
        old: The password that it replaces.
        field: Name of the input, for the error.

    Returns:
        The text itself.

    Raises:
        InputError: When it is too short, too long or too easily guessed. The error does not repeat the password.
    """
    what = "same" if text == old else _weakness(text, sign_in_name)
    if what is None:
        return text
    raise InputError(
        Message(f"accounts.password-{what}", {"shortest": SHORTEST, "longest": LONGEST}),
        given="",
        accepted=Message("accounts.password-accepted", {"shortest": SHORTEST, "longest": LONGEST}),
        example="three or four words that only you put together",
        field=field,
    )


def _weakness(text: str, sign_in_name: str) -> str | None:
    if len(text) < SHORTEST:
        return "short"
    if len(text) > LONGEST:
        return "long"
    plain = text.casefold()
    if sign_in_name in plain and len(plain) - len(sign_in_name) < SHORTEST // 2:
        return "name"
    if len(set(plain)) < LEAST_DIFFERENT or _is_common(plain):
        return "common"
    return None


def _is_common(plain: str) -> bool:
    letters = "".join(letter for letter in plain if letter.isalpha())
    return (not letters and _climbs(plain)) or letters in COMMON


def _climbs(plain: str) -> bool:
    """1234567890 and the like: most characters are the next or the last one of the one before."""
    steps = [abs(ord(b) - ord(a)) for a, b in pairwise(plain)]
    return sum(step in {0, 1, 9} for step in steps) > 0.8 * len(steps)


def one_time_password(groups: int = 4) -> str:
    """A random password to be written down once and replaced at the first sign-in: four signs, some 20 bits, a group."""
    return "-".join("".join(secrets.choice(UNAMBIGUOUS) for _ in range(4)) for _ in range(groups))


def _bytes(password: str) -> bytes:
    """The same characters give the same bytes, whichever way a keyboard composes them."""
    return unicodedata.normalize("NFC", password).encode("utf-8", "surrogatepass")
