"""Making many people at once: a few statements, however many there are, and their passwords hashed before any lock is held."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from msgspec import Struct
from sqlalchemy import insert, select
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session

from trainer.accounts.names import read_display_name, read_sign_in_name
from trainer.accounts.passwords import Passwords, one_time_password
from trainer.calc.message import InputError, Message
from trainer.records.models import AuditLine, Person
from trainer.records.types import new_public_id

__all__ = ["FirstPasswords", "MadePerson", "NewPerson", "make_people"]

#: Groups of four signs in a first password, which is typed on a phone from a slip; some 59 bits.
GROUPS = 3


class NewPerson(Struct, frozen=True):
    """Whom to make: names as typed, and whether the person is made up."""

    sign_in_name: str
    display_name: str
    is_invented: bool = False


class MadePerson(Struct, frozen=True):
    """A person who was made; the first password is stored nowhere."""

    id: int
    public_id: str
    sign_in_name: str
    display_name: str
    password: str


class FirstPasswords:
    """
    Passwords for people who will be made, hashed beforehand: some 25 ms each, for which nobody else should wait.

    Args:
        count: How many will be wanted; a few more are hashed when they are.
        passwords: How they are stored.
    """

    def __init__(self, count: int, passwords: Passwords) -> None:
        self._passwords = passwords
        self._ready = [self._new() for _ in range(count)]

    def take(self) -> tuple[str, str]:
        """A password, and what is stored of it."""
        return self._ready.pop() if self._ready else self._new()

    def _new(self) -> tuple[str, str]:
        text = one_time_password(GROUPS)
        return text, self._passwords.store(text)


def make_people(
    session: Session, wanted: Sequence[NewPerson], firsts: FirstPasswords, now: datetime
) -> list[MadePerson]:
    """
    Make people who have to set a password of their own at the first sign-in.

    Args:
        session: A write session.
        wanted: Who; their sign-in names differ.
        firsts: Their first passwords.
        now: This moment.

    Raises:
        InputError: With `field` "sign_in_name" or "display_name" when one cannot be used; nobody is made then.
    """
    rows, given = [], []
    for one in wanted:
        text, stored = firsts.take()
        given.append(text)
        rows.append(_row(one, stored, now))
    if not rows:
        return []
    names = [row["sign_in_name"] for row in rows]
    taken = session.scalars(select(Person.sign_in_name).where(Person.sign_in_name.in_(names))).first()
    if taken is not None:
        raise _taken(taken)
    try:
        session.execute(insert(Person), rows)
    except IntegrityError as error:
        # Somebody else has made one of them this very moment.
        raise _taken(", ".join(names)) from error
    ids = dict(session.execute(select(Person.public_id, Person.id).where(Person.sign_in_name.in_(names))).all())
    # Who is invented never reads what was noted.
    real = [ids[row["public_id"]] for row in rows if not row["is_invented"]]
    if real:
        noted = {"at": now, "what": "person.created"}
        session.execute(insert(AuditLine), [noted | {"subject_id": key} for key in real])
    return [
        MadePerson(ids[row["public_id"]], row["public_id"], row["sign_in_name"], row["display_name"], text)
        for row, text in zip(rows, given, strict=True)
    ]


def _taken(name: str) -> InputError:
    return InputError(
        Message("accounts.sign-in-name-taken", {"name": name}),
        given=name,
        accepted=Message("accounts.sign-in-name-free"),
        example=f"{name[:37]}.2",
        field="sign_in_name",
    )


def _row(one: NewPerson, stored: str, now: datetime) -> dict[str, Any]:
    return {
        "public_id": new_public_id(),
        "sign_in_name": read_sign_in_name(one.sign_in_name),
        "display_name": read_display_name(one.display_name),
        "password_hash": stored,
        "must_change_password": True,
        "is_site_administrator": False,
        "is_invented": one.is_invented,
        "created_at": now,
        "problems_issued": 0,
        "answers_given": 0,
    }
