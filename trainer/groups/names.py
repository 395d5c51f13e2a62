"""Names that people give to organisations, groups and assigned work."""

from __future__ import annotations

import unicodedata

from trainer.accounts.names import INVISIBLE
from trainer.calc.message import InputError, Message

__all__ = ["LONGEST", "read_line", "read_name"]

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


def read_line(text: str, *, field: str, example: str, longest: int) -> str:
    """
    A line that somebody writes about something, in any script.

    Args:
        text: As typed.
        field: Name of the form's field, for the error.
        example: A line that would do.
        longest: How many characters fit.

    Returns:
        The line with its white space squeezed, 1 to `longest` characters.

    Raises:
        InputError: When it is empty, too long or has invisible characters in it.
    """
    line = " ".join(unicodedata.normalize("NFC", text[: 4 * longest]).split())
    invisible = any(unicodedata.category(letter) in INVISIBLE for letter in line)
    slips = (("empty", not line), ("long", len(line) > longest), ("invisible", invisible))
    if slip := next((name for name, is_so in slips if is_so), None):
        accepted = Message("groups.line-accepted", {"longest": longest})
        raise InputError(
            Message(f"groups.line-{slip}"), given=text[:longest], accepted=accepted, example=example, field=field
        )
    return line


def _refused(reason: str, text: str, field: str, example: str) -> InputError:
    accepted = Message("groups.name-accepted", {"longest": LONGEST})
    return InputError(Message(reason), given=text[:LONGEST_READ], accepted=accepted, example=example, field=field)
