"""Who is in the demo: names by Faker from a fixed seed, abilities and slips of our own making."""

from __future__ import annotations

import hashlib

from faker import Faker
from msgspec import Struct

from trainer.demo.parts import APPRENTICE, OTHERS, Part

__all__ = ["CLASS", "CREWS", "SCHOOL", "SHOP", "DemoPerson", "Extra", "extras", "invented_id", "leads", "principal"]

SEED = 35810
"""Any number of ours; another one gives other people."""

SCHOOL = "Lantern Row Evening School (invented)"
SHOP = "Two Ladders Wiring (invented)"
CLASS = "First year, Tuesday night"
CREWS = {"garage": "Garage crew", "van": "Service van"}


class DemoPerson(Struct, frozen=True):
    """
    Someone whom a visitor can sign in as.

    Args:
        role: What this person is, in one word.
        sign_in_name: To sign in with.
        password: Likewise. No secret: the demo answers on this machine only, and everyone in it is invented.
        display_name: As others read it.
    """

    role: str
    sign_in_name: str
    password: str
    display_name: str


class Extra(Struct, frozen=True):
    """Someone who fills the class or a crew: sign-in name, name as others read it, and the part; nobody signs in as them."""

    sign_in_name: str
    display_name: str
    part: Part


def invented_id(sign_in_name: str) -> str:
    """A public id that is the same each time, so that an invented person's problems have the same numbers."""
    return hashlib.sha256(f"invented person {SEED} {sign_in_name}".encode()).hexdigest()[:22]


def _names(count: int) -> list[str]:
    faker = Faker("en_US")
    faker.seed_instance(SEED)
    names: dict[str, None] = {}
    while len(names) < count:
        names[f"{faker.first_name()} {faker.last_name()}"] = None
    return list(names)


def leads() -> tuple[DemoPerson, ...]:
    """The four whom a visitor can sign in as; the first of them learns."""
    passwords = ("ream-both-ends-7", "chalk-and-string-4", "level-and-plumb-9", "keys-to-the-van-2")
    roles = ("apprentice", "instructor", "foreman", "owner")
    return tuple(
        DemoPerson(role, role, password, name) for role, password, name in zip(roles, passwords, _names(4), strict=True)
    )


def extras() -> tuple[Extra, ...]:
    """The others, and the apprentice among them, with how each of them answers."""
    apprentice, *_ = leads()
    names = _names(4 + len(OTHERS))[4:]
    others = [Extra(_sign_in_name(name), name, part) for name, part in zip(names, OTHERS, strict=True)]
    return (Extra(apprentice.sign_in_name, apprentice.display_name, APPRENTICE), *others)


def principal() -> tuple[str, str]:
    """Sign-in name and name of the school's owner, who names who may sign checks there."""
    name = _names(5 + len(OTHERS))[-1]
    return _sign_in_name(name), name


def _sign_in_name(name: str) -> str:
    return name.lower().replace(" ", ".").replace("'", "")
