"""Putting the people of a list into a class or crew: all of it in one transaction, or nothing."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from msgspec import Struct
from sqlalchemy import insert, select, update
from sqlalchemy.orm import Session

from trainer.accounts.access import GroupRef, NotAllowedError, group_led_by
from trainer.accounts.actor import Actor
from trainer.accounts.many import FirstPasswords, MadePerson, NewPerson, make_people
from trainer.accounts.sharing import STARTS_WITH
from trainer.calc.message import InputError, Message
from trainer.groups.roster_columns import ListedPerson
from trainer.groups.roster_plan import Fate, PlannedLine, plan
from trainer.records.locks import locked
from trainer.records.models import AuditLine, Group, Membership, Person, Share

__all__ = ["Imported", "RosterPlan", "import_roster", "put_in", "roster_group", "roster_plan"]


class RosterPlan(Struct, frozen=True):
    """What a list would do to a group."""

    group: GroupRef
    lines: tuple[PlannedLine, ...]

    def of(self, *fates: Fate) -> tuple[PlannedLine, ...]:
        """The lines of these fates."""
        return tuple(line for line in self.lines if line.fate in fates)

    @property
    def changes(self) -> int:
        """How many people would be put in."""
        return len(self.of(Fate.NEW, Fate.JOINS, Fate.AGAIN))


class Imported(Struct, frozen=True):
    """What a list did: who is new, with first passwords that are stored nowhere, and how many others were put in."""

    group: GroupRef
    made: tuple[MadePerson, ...]
    put_in: int


def roster_group(session: Session, actor: Actor, group_public_id: str) -> GroupRef:
    """
    A group that people can be put into.

    Raises:
        NotFoundError: When the group is not his to know of.
        NotAllowedError: When he does not lead it, or it is put away or a sample.
    """
    group = group_led_by(session, actor, group_public_id)
    if group.archived_at is not None:
        raise NotAllowedError(Message("groups.put-away", {"group": group.name}))
    if group.is_sample:
        raise NotAllowedError(Message("groups.sample-stays"))
    return group


def roster_plan(session: Session, actor: Actor, group_public_id: str, people: Sequence[ListedPerson]) -> RosterPlan:
    """
    What a list would do to a group; nothing is written.

    Raises:
        NotFoundError, NotAllowedError: As `roster_group`.
    """
    group = roster_group(session, actor, group_public_id)
    return RosterPlan(group, tuple(plan(session, group, people)))


def import_roster(
    session: Session,
    actor: Actor,
    group_public_id: str,
    people: Sequence[ListedPerson],
    *,
    firsts: FirstPasswords,
    leave_out: bool,
    now: datetime,
) -> Imported:
    """
    Put the people of a list into a group. The same list again changes nothing.

    Args:
        session: A write session.
        actor: Who leads the group.
        group_public_id: The group.
        people: The list.
        firsts: First passwords for who is new.
        leave_out: Whether lines that cannot be used are left out.
        now: This moment.

    Raises:
        NotFoundError, NotAllowedError: As `roster_group`.
        InputError: With `field` "leave_out" when a line cannot be used and is not left out. Nothing is written then.
    """
    group = roster_group(session, actor, group_public_id)
    # Two lists at the same moment queue up.
    session.execute(locked(select(Group).where(Group.id == group.id)))
    found = RosterPlan(group, tuple(plan(session, group, people)))
    bad = found.of(Fate.BAD)
    if bad and not leave_out:
        raise InputError(
            Message("groups.roster-bad-lines", {"count": len(bad)}),
            given=str(bad[0].line),
            accepted=Message("groups.roster-leave-out"),
            example="Ana Ruiz",
            field="leave_out",
        )
    new = found.of(Fate.NEW)
    made = make_people(session, [NewPerson(line.sign_in, line.name) for line in new], firsts, now)
    ids = {line.line: person.id for line, person in zip(new, made, strict=True)}
    coming = [(line.person_id or ids[line.line], line) for line in found.of(Fate.NEW, Fate.JOINS, Fate.AGAIN)]
    put_in(session, actor, group, [(key, line.name, line.number) for key, line in coming], now)
    _remember(session, group, found.of(Fate.THERE))
    return Imported(group, tuple(made), len(coming) - len(made))


def put_in(
    session: Session,
    actor: Actor,
    group: GroupRef,
    people: Sequence[tuple[int, str | None, str | None]],
    now: datetime,
) -> None:
    """
    Make people members who have not asked for it themselves; each is told what the group sees before anything else.

    Args:
        session: A write session.
        actor: Who puts them in.
        group: Where.
        people: Key of each person who is no member, with name and number on the list; None where there is no list.
        now: This moment.
    """
    if not people:
        return
    ids = sorted(person for person, *_ in people)
    session.execute(locked(select(Person).where(Person.id.in_(ids)).order_by(Person.id)))
    place = {"organisation_id": group.organisation.id, "group_id": group.id, "role": "learner", "started_at": now}
    rows = [
        {
            **place,
            "person_id": key,
            "added_by_id": actor.person_id,
            "roster_name": name,
            "roster_number": number or None,
        }
        for key, name, number in people
    ]
    session.execute(insert(Membership), rows)
    shared = [
        {"person_id": key, "group_id": group.id, "what": what.value, "started_at": now}
        for key, *_ in people
        for what in STARTS_WITH[group.kind]
    ]
    session.execute(insert(Share), shared)
    noted = {"at": now, "actor_id": actor.person_id, "group_id": group.id, "what": "group.put-in"}
    session.execute(insert(AuditLine), [noted | {"subject_id": key} for key, *_ in people])


def _remember(session: Session, group: GroupRef, there: Sequence[PlannedLine]) -> None:
    """How the list calls members whom no list has named before, so that it finds them under another name too."""
    if not there:
        return
    named = select(Membership.person_id, Membership.id).where(
        Membership.group_id == group.id,
        Membership.role == "learner",
        Membership.ended_at.is_(None),
        Membership.roster_name.is_(None),
    )
    unnamed = dict(session.execute(named).all())
    rows = [
        {"id": unnamed[line.person_id], "roster_name": line.name, "roster_number": line.number or None}
        for line in there
        if line.person_id in unnamed
    ]
    if rows:
        session.execute(update(Membership), rows)
