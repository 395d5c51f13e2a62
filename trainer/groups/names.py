"""Names that people give to organisations, groups and assigned work."""

from __future__ import annotations

import unicodedata

from trainer.accounts.names import INVISIBLE
from trainer.calc.message import InputError, Message

__all__ = ["LONGEST", "read_name"]

LONGEST = 120
LONGEST_READ = 400


def read_name(text: str, *, field: str, example: str) -> str:
    """
    A name in any script.

    Args:
        text: As typed.
        field: Name of the form's field, for the error.
        example: A name that would do.

    Returns:
        The name with its white space squeezed, 1 to 120 characters.

    Raises:
        InputError: When it is empty, too long or has invisible characters in it.

    >>> read_name("  Tuesday   class ", field="name", example="Tuesday class")
    'Tuesday class'
    """
    name = " ".join(unicodedata.normalize("NFC", text[:LONGEST_READ]).split())
    if not name:
        raise _refused("groups.name-empty", text, field, example)
    if len(name) > LONGEST:
        raise _refused("groups.name-long", text, field, example)
    if any(unicodedata.category(letter) in INVISIBLE for letter in name):
        raise _refused("groups.name-invisible", text, field, example)
    return name


def _refused(reason: str, text: str, field: str, example: str) -> InputError:
    accepted = Message("groups.name-accepted", {"longest": LONGEST})
    return InputError(Message(reason), given=text[:LONGEST_READ], accepted=accepted, example=example, field=field)
