"""
Problem sets: what is asked, kept under a name in a school or shop, for all who teach there.

A set names families by id, with counts. Work that is given from it takes lines of its own, pinned to the versions of that
moment: whatever becomes of the set afterwards, what was given stays as it is.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from datetime import datetime

from msgspec import Struct
from msgspec.structs import replace
from sqlalchemy import delete, insert, select
from sqlalchemy.orm import Session

from trainer.accounts.access import SetRef, organisation_of_staff, problem_set_of_staff
from trainer.accounts.actor import Actor
from trainer.groups.names import LONGEST, read_name
from trainer.groups.questions import FamilyCount, check_counts, lines_for
from trainer.library.shelf import Library
from trainer.records.locks import lock_person, locked
from trainer.records.models import AssignedWork, Group, Person, ProblemSet, ProblemSetLine
from trainer.records.types import new_public_id

__all__ = ["KeptSet", "SetGiven", "SetLine", "change_set", "copy_set", "make_set", "problem_set", "put_away", "sets_of"]

EXAMPLE = "Offsets, first evening"


class SetLine(Struct, frozen=True):
    """What a set asks: a family or job, how many of it, and its title; None once it is no longer on the shelf."""

    family_id: str
    count: int
    title: str | None


class SetGiven(Struct, frozen=True):
    """Work that was given from a set."""

    work: str
    title: str
    group: str
    given_at: datetime


class KeptSet(Struct, frozen=True):
    """
    A set.

    Args:
        set: Public id.
        name: Its name.
        organisation: Public id of its school or shop.
        organisation_name: The name of that.
        made_by: Name of who made it.
        changed_at: When it was changed last.
        lines: What it asks, in its order.
        questions: How many lines work has that is given from it.
        given: What was given from it, the latest first; only of a set that was asked for by itself.
    """

    set: str
    name: str
    organisation: str
    organisation_name: str
    made_by: str
    changed_at: datetime
    lines: tuple[SetLine, ...]
    questions: int
    given: tuple[SetGiven, ...] = ()

    @property
    def counts(self) -> tuple[FamilyCount, ...]:
        """What can be given of it now."""
        return tuple(FamilyCount(line.family_id, line.count) for line in self.lines if line.title is not None)


def sets_of(session: Session, library: Library, actor: Actor) -> list[KeptSet]:
    """The sets of all organisations in which one may make groups, by name; two queries."""
    places = {one.organisation_id: one for one in actor.may_make_groups_in}
    query = (
        select(ProblemSet, Person.display_name)
        .join(Person, Person.id == ProblemSet.made_by_id)
        .where(ProblemSet.organisation_id.in_(places), ProblemSet.put_away_at.is_(None))
        .order_by(ProblemSet.name, ProblemSet.id)
    )
    rows = session.execute(query).all()
    lines = _lines(session, library, [row.id for row, _ in rows])
    found = []
    for row, made_by in rows:
        place = places[row.organisation_id]
        ids = place.organisation_public_id, place.organisation_name
        found.append(_kept(library, row, lines.get(row.id, ()), ids, made_by))
    return found


def problem_set(session: Session, library: Library, actor: Actor, set_public_id: str) -> KeptSet:
    """
    One set, with what was given from it to the groups of its organisation.

    Raises:
        NotFoundError: When it is not his to know of, or put away.
    """
    ref = problem_set_of_staff(session, actor, set_public_id)
    row, made_by = session.execute(
        select(ProblemSet, Person.display_name)
        .join(Person, Person.id == ProblemSet.made_by_id)
        .where(ProblemSet.id == ref.id)
    ).one()
    query = (
        select(AssignedWork.public_id, AssignedWork.title, Group.name, AssignedWork.created_at)
        .join(Group, Group.id == AssignedWork.group_id)
        .where(AssignedWork.problem_set_id == ref.id, AssignedWork.withdrawn_at.is_(None))
        # Who leads elsewhere too may have given it there: that is the other place's own affair.
        .where(Group.organisation_id == ref.organisation.id)
        .order_by(AssignedWork.id.desc())
    )
    given = tuple(SetGiven(*one) for one in session.execute(query))
    ids = ref.organisation.public_id, ref.organisation.name
    lines = _lines(session, library, [ref.id]).get(ref.id, ())
    return replace(_kept(library, row, lines, ids, made_by), given=given)


def make_set(
    session: Session,
    library: Library,
    actor: Actor,
    organisation_public_id: str,
    *,
    name: str,
    families: Sequence[FamilyCount],
    form_key: str = "",
    now: datetime,
) -> str:
    """
    Keep a set.

    Args:
        session: A write session.
        library: The content.
        actor: Who may make groups there.
        organisation_public_id: The school or shop.
        name: As typed.
        families: What is asked, in this order.
        form_key: Of the form that makes it: the same one again makes nothing more.
        now: This moment.

    Returns:
        Public id of the set.

    Raises:
        NotFoundError: When the organisation is not his to make groups in.
        InputError: With `field` "title" or "families", when it cannot be used.
    """
    place = organisation_of_staff(session, actor, organisation_public_id)
    lock_person(session, actor.person_id)
    if form_key and (before := _made_by(session, place.id, form_key)):
        return before
    title = read_name(name, field="title", example=EXAMPLE)
    check_counts(library.under(place.local_rules), families)
    row = ProblemSet(
        public_id=new_public_id(),
        organisation_id=place.id,
        name=title,
        make_key=form_key or None,
        made_by_id=actor.person_id,
        made_at=now,
        changed_at=now,
    )
    session.add(row)
    session.flush()
    _put_lines(session, row.id, families)
    return row.public_id


def change_set(
    session: Session,
    library: Library,
    actor: Actor,
    set_public_id: str,
    *,
    name: str,
    families: Sequence[FamilyCount],
    now: datetime,
) -> None:
    """
    Change a set. What was given from it stays as it is.

    Raises:
        NotFoundError: When it is not his to know of, or put away.
        InputError: With `field` "title" or "families", when it cannot be used.
    """
    ref = problem_set_of_staff(session, actor, set_public_id)
    row = session.scalars(locked(select(ProblemSet).where(ProblemSet.id == ref.id))).one()
    row.name = read_name(name, field="title", example=EXAMPLE)
    check_counts(library.under(ref.organisation.local_rules), families)
    row.changed_at = now
    session.execute(delete(ProblemSetLine).where(ProblemSetLine.problem_set_id == ref.id))
    _put_lines(session, ref.id, families)


def copy_set(
    session: Session,
    library: Library,
    actor: Actor,
    set_public_id: str,
    *,
    form_key: str = "",
    name: str,
    now: datetime,
) -> str:
    """
    A copy of a set in the same place, under another name.

    Raises:
        NotFoundError: When it is not his to know of, or put away.
        InputError: When nothing of it can be given any more.
    """
    found = problem_set(session, library, actor, set_public_id)
    return make_set(
        session,
        library,
        actor,
        found.organisation,
        name=name[:LONGEST],
        families=found.counts,
        form_key=form_key,
        now=now,
    )


def put_away(session: Session, actor: Actor, set_public_id: str, now: datetime) -> SetRef:
    """
    Put a set away: it stands in no list any more. What was given from it stays as it is.

    Raises:
        NotFoundError: When it is not his to know of, or put away.
    """
    ref = problem_set_of_staff(session, actor, set_public_id)
    row = session.scalars(locked(select(ProblemSet).where(ProblemSet.id == ref.id))).one()
    row.put_away_at = now
    return ref


def _made_by(session: Session, organisation_id: int, form_key: str) -> str | None:
    query = select(ProblemSet.public_id).where(ProblemSet.organisation_id == organisation_id)
    return session.scalar(query.where(ProblemSet.make_key == form_key))


def _put_lines(session: Session, set_id: int, families: Sequence[FamilyCount]) -> None:
    lines = [
        {"problem_set_id": set_id, "position": position, "family_id": asked.family_id, "asked": asked.count}
        for position, asked in enumerate(families, start=1)
    ]
    session.execute(insert(ProblemSetLine), lines)


def _lines(session: Session, library: Library, sets: Collection[int]) -> dict[int, tuple[SetLine, ...]]:
    query = select(ProblemSetLine).where(ProblemSetLine.problem_set_id.in_(sets)).order_by(ProblemSetLine.position)
    found: dict[int, tuple[SetLine, ...]] = {}
    for row in session.scalars(query):
        shelved = library.givable.get(row.family_id)
        line = SetLine(row.family_id, row.asked, shelved.title if shelved else None)
        found[row.problem_set_id] = (*found.get(row.problem_set_id, ()), line)
    return found


def _kept(
    library: Library,
    row: ProblemSet,
    lines: tuple[SetLine, ...],
    organisation: tuple[str, str],
    made_by: str,
) -> KeptSet:
    counts = [FamilyCount(line.family_id, line.count) for line in lines]
    number = len(lines_for(library, counts))
    return KeptSet(row.public_id, row.name, *organisation, made_by, row.changed_at, lines, number)
