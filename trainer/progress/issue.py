"""A problem issued to a person: chosen or asked for, drawn, pinned, and kept open until it is answered or given up."""

from __future__ import annotations

import hashlib
from datetime import datetime

from msgspec import Struct
from sqlalchemy import Select, select
from sqlalchemy.orm import Session

from trainer.accounts.access import NotFoundError
from trainer.calc.message import Message
from trainer.library.shelf import Library
from trainer.library.versions import family_at, pin
from trainer.problems.draw import draw
from trainer.problems.family import Family
from trainer.problems.store import message_to_json, store
from trainer.progress.choose import family_for, next_problem
from trainer.progress.issued import note_turn, problem_row
from trainer.progress.standings import Standings, standings_of
from trainer.progress.why import Ground, why
from trainer.records import models
from trainer.records.locks import lock_person

__all__ = ["issue", "seed_for"]

LARGEST_SEED = 10**18


class Wanted(Struct, frozen=True):
    """What a problem is issued for; None where it doesn't matter."""

    context: str
    skill: str | None
    family_id: str | None
    lesson_id: str | None
    assigned_family_id: int | None
    seed: int | None


class Taken(Struct, frozen=True):
    """The family that was taken, in which version, and why."""

    family: Family
    version_id: int
    why: Message | None


def issue(
    session: Session,
    library: Library,
    person_id: int,
    *,
    skill: str | None = None,
    family_id: str | None = None,
    context: str = "practice",
    lesson_id: str | None = None,
    assigned_family_id: int | None = None,
    seed: int | None = None,
    now: datetime,
    edition: str,
) -> str:
    """
    Issue a problem, or give back the one of the same kind that is still open.

    Args:
        session: A write session.
        library: The content.
        person_id: To whom.
        skill: The skill asked for; None leaves the choice to the program.
        family_id: The family asked for; None leaves the choice to the program. A part of a job asks for the job, which
            begins with its first part.
        context: "practice", "lesson" (needs `family_id`) or "assigned" (needs `assigned_family_id`).
        lesson_id: The lesson that the problem stands in.
        assigned_family_id: The line of assigned work that it is for; its pinned version is drawn from. The caller has
            seen to it that the work was given to this person.
        seed: From which the numbers are drawn, where several people get the same; None for numbers of one's own.
        now: This moment.
        edition: Edition of the rules, pinned into the problem.

    Returns:
        Public id of the problem.

    Raises:
        NotFoundError: When the skill, the family, the lesson or the line of assigned work does not exist.
        DrawError: When the family's numbers found no fit: an error of its file.
    """
    wanted = Wanted(context, skill, _beginning(library, family_id), lesson_id, assigned_family_id, seed)
    _check_shelf(library, wanted)
    person = lock_person(session, person_id)
    if (still_open := session.scalar(_open_one(person_id, wanted))) is not None:
        return still_open
    standings = standings_of(session, library, person_id, person.problems_issued, now)
    taken = _take(session, library, standings, wanted, now)
    person.problems_issued += 1
    row = _drawn(session, taken, person, wanted, edition=edition, now=now)
    session.add(row)
    note_turn(session, standings.rows, row, person)
    session.flush()
    return row.public_id


def seed_for(person_public_id: str, nth: int) -> int:
    """
    Seed of a person's `nth` problem: the same again on every machine, and not to be guessed by another person.

    >>> seed_for("abc", 1) == seed_for("abc", 1) != seed_for("abc", 2)
    True
    """
    digest = hashlib.sha256(f"{person_public_id}:{nth}".encode()).digest()
    return int.from_bytes(digest[:8], "big") % LARGEST_SEED


def _beginning(library: Library, family_id: str | None) -> str | None:
    """The family to begin with: of a job the first part, whichever part was named."""
    family = library.families.get(family_id) if family_id is not None else None
    return family.job.job.parts[0].id if family and family.job else family_id


def _check_shelf(library: Library, wanted: Wanted) -> None:
    """What is asked for by name has to be on the shelf, before the database is asked about it."""
    missing = (
        (wanted.family_id is not None and wanted.family_id not in library.families)
        or (wanted.skill is not None and not library.asks(wanted.skill))
        or (wanted.lesson_id is not None and wanted.lesson_id not in library.lessons)
    )
    if missing:
        raise NotFoundError


def _open_one(person_id: int, wanted: Wanted) -> Select[str]:
    """The newest open problem of the same kind."""
    table = models.Problem
    query = select(table.public_id).where(
        table.person_id == person_id, table.closed_at.is_(None), table.context == wanted.context
    )
    if wanted.assigned_family_id is not None:
        return query.where(table.assigned_family_id == wanted.assigned_family_id)
    for column, value in (
        (table.skill, wanted.skill),
        (table.family_id, wanted.family_id),
        (table.lesson_id, wanted.lesson_id),
    ):
        query = query if value is None else query.where(column == value)
    return query.order_by(table.id.desc()).limit(1)


def _take(session: Session, library: Library, standings: Standings, wanted: Wanted, now: datetime) -> Taken:
    if wanted.assigned_family_id is not None:
        return _take_assigned(session, library, wanted.assigned_family_id)
    family_id, reason = _choose(standings, wanted)
    family = library.families[family_id]
    return Taken(family, pin(session, family, now), reason)


def _take_assigned(session: Session, library: Library, assigned_family_id: int) -> Taken:
    """The family of a line of assigned work, as it stood when the work was given."""
    query = (
        select(models.ContentVersion)
        .join(models.AssignedFamily, models.AssignedFamily.content_version_id == models.ContentVersion.id)
        .where(models.AssignedFamily.id == assigned_family_id)
    )
    version = session.scalar(query)
    if version is None:
        raise NotFoundError
    return Taken(family_at(library, version), version.id, None)


def _choose(standings: Standings, wanted: Wanted) -> tuple[str, Message | None]:
    """The family that comes next, as far as it was left open, and why."""
    if wanted.family_id is not None:
        return wanted.family_id, None
    if wanted.skill is not None:
        line = standings.lines[wanted.skill]
        family, provoked = family_for(line, standings.families[wanted.skill])
        return family.id, why(line, Ground.ASKED, provoked)
    choice = next_problem(list(standings.lines.values()), standings.families)
    if choice is None:
        raise NotFoundError
    return choice.family_id, choice.why


def _drawn(
    session: Session, taken: Taken, person: models.Person, wanted: Wanted, *, edition: str, now: datetime
) -> models.Problem:
    family = taken.family
    seed = seed_for(person.public_id, person.problems_issued) if wanted.seed is None else wanted.seed
    return problem_row(
        session,
        family,
        taken.version_id,
        person.id,
        seed=seed,
        edition=edition,
        drawn=store(draw(family, seed, edition=edition)),
        now=now,
        context=wanted.context,
        lesson_id=wanted.lesson_id,
        assigned_family_id=wanted.assigned_family_id,
        why=message_to_json(taken.why) if taken.why else None,
    )
