"""Names that people give to organisations, groups and assigned work."""

from __future__ import annotations

import unicodedata

from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.accounts.names import INVISIBLE
from trainer.calc.message import InputError, Message
from trainer.records.models import Group

__all__ = ["LONGEST", "read_line", "read_name", "unused_name"]

LONGEST = 120
LONGEST_READ = 400
EXAMPLE = "Tuesday evening"


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


def unused_name(session: Session, organisation_id: int, text: str, *, but: int | None = None) -> str:
    """
    A name that no other group of the organisation has, in whatever letters; those put away do not count.

    Raises:
        InputError: With `field` "name", when it cannot be a name or another group is called so.
    """
    name = read_name(text, field="name", example=EXAMPLE)
    others = select(Group.name).where(
        Group.organisation_id == organisation_id, Group.archived_at.is_(None), Group.id != (but or 0)
    )
    if any(one.casefold() == name.casefold() for one in session.scalars(others)):
        raise InputError(
            Message("groups.name-taken", {"name": name}),
            given=name,
            accepted=Message("groups.name-free"),
            example=f"{name[:100]}, second group",
            field="name",
        )
    return name


def _refused(reason: str, text: str, field: str, example: str) -> InputError:
    accepted = Message("groups.name-accepted", {"longest": LONGEST})
    return InputError(Message(reason), given=text[:LONGEST_READ], accepted=accepted, example=example, field=field)
