"""Who is in the demo: names by Faker from a fixed seed, abilities and slips of our own making."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass

from faker import Faker

from trainer.demo.pretend import Pretend

__all__ = ["CLASS", "CREW", "SCHOOL", "SHOP", "DemoPerson", "Extra", "extras", "leads"]

SEED = 35810
"""Any number of ours; another one gives other people."""

SCHOOL = "Lantern Row Evening School (invented)"
SHOP = "Two Ladders Wiring (invented)"
CLASS = "First year, Tuesday night"
CREW = "Garage crew"


@dataclass(frozen=True, slots=True)
class DemoPerson:
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


@dataclass(frozen=True, slots=True)
class Extra:
    """
    Someone who fills the class or the crew; nobody signs in as them.

    Args:
        sign_in_name: Unique.
        display_name: As others read it.
        in_class: Whether in the night class.
        in_crew: Whether in the shop's crew.
        eager: Days a week on which this person sits down to practise.
        pretend: How this person answers.
    """

    sign_in_name: str
    display_name: str
    in_class: bool
    in_crew: bool
    eager: int
    pretend: Pretend


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
    names = _names(4 + len(_WAYS))[4:]
    others = [
        Extra(_sign_in_name(name), name, in_class, in_crew, eager, pretend)
        for name, (in_class, in_crew, eager, pretend) in zip(names, _WAYS, strict=True)
    ]
    own = Pretend(0.7, "no-shrink", {"bends.offset": 0.3, "supports.straps": -0.4})
    return (Extra(apprentice.sign_in_name, apprentice.display_name, True, True, 4, own), *others)


def _sign_in_name(name: str) -> str:
    return name.lower().replace(" ", ".").replace("'", "")


#: In the class, in the crew, eager days a week, and how they answer.
_WAYS: tuple[tuple[bool, bool, int, Pretend], ...] = (
    (True, False, 3, Pretend(1.3)),
    (True, False, 2, Pretend(0.2, "no-shrink")),
    (True, False, 4, Pretend(1.8)),
    (True, False, 2, Pretend(-0.3, "shrink-subtracted")),
    (True, False, 3, Pretend(0.6, "take-up-added")),
    (True, False, 1, Pretend(0.0)),
    (True, False, 3, Pretend(1.0, "shrink-subtracted")),
    (True, False, 2, Pretend(0.5, "no-shrink")),
    (True, True, 4, Pretend(1.5, "", {"bends.offset": 0.6})),
    (False, True, 3, Pretend(0.9, "take-up-added")),
    (False, True, 2, Pretend(0.4)),
)
