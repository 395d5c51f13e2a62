"""Problems issued to many people at once, before anybody asks for one: what goes on the sheets of a class."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from datetime import datetime
from typing import Any

from msgspec import Struct
from sqlalchemy import insert, select
from sqlalchemy.orm import Session

from trainer.problems.draw import draw
from trainer.problems.family import Family
from trainer.problems.store import store
from trainer.progress.issued import unused_codes
from trainer.records.locks import locked
from trainer.records.models import Person, Problem
from trainer.records.types import new_public_id

__all__ = ["Ahead", "issue_ahead"]

#: Seed of the next problem of a person at a line.
Seed = Callable[[Person, "Ahead"], int]


class Ahead(Struct, frozen=True):
    """
    A line of assigned work that asks for a problem.

    Args:
        id: The line.
        position: Its place in the work, from 1.
        family: What it asks, in the version that was pinned.
        version_id: That version on record.
    """

    id: int
    position: int
    family: Family
    version_id: int


def issue_ahead(
    session: Session,
    lines: Sequence[Ahead],
    people: Iterable[int],
    *,
    seed: Seed,
    edition: str,
    now: datetime,
) -> int:
    """
    A problem for each of these people at each line where nothing was issued yet, with a fixed number of statements.

    Nobody chose these problems for a person, so no skill has had its turn by them.

    Args:
        session: A write session.
        lines: The lines.
        people: Ids of the people, locked here in the order of their ids.
        seed: Gives the seed of a problem; the person's count of problems holds it already.
        edition: Edition of the rules.
        now: This moment.

    Returns:
        How many were issued.
    """
    query = locked(select(Person).where(Person.id.in_(list(people))).order_by(Person.id))
    persons = session.scalars(query).all()
    issued = select(Problem.person_id, Problem.assigned_family_id).where(
        Problem.assigned_family_id.in_([line.id for line in lines])
    )
    have = {(person_id, line_id) for person_id, line_id in session.execute(issued)}
    rows = []
    for person in persons:
        for line in lines:
            if (person.id, line.id) not in have:
                person.problems_issued += 1
                rows.append(_row(line, person, seed(person, line), edition, now))
    codes = unused_codes(session, len(rows))
    if rows:
        session.execute(insert(Problem), [row | {"code": code} for row, code in zip(rows, codes, strict=True)])
    session.flush()
    return len(rows)


def _row(line: Ahead, person: Person, seed: int, edition: str, now: datetime) -> dict[str, Any]:
    return {
        "public_id": new_public_id(),
        "person_id": person.id,
        "context": "assigned",
        "assigned_family_id": line.id,
        "content_version_id": line.version_id,
        "family_id": line.family.id,
        "skill": line.family.skill,
        "seed": seed,
        "edition": edition,
        "basis": line.family.basis,
        "drawn": store(draw(line.family, seed, edition=edition)),
        "issued_at": now,
    }
