"""
A whole board, kept in this process for as long as nothing has happened to anybody on it.

To look at hundreds of people one by one takes long even where each of them is kept. So a board is kept beside a stamp of
its own, one row whatever its size: who is on it and what they are called and show, written out; and sums over all of them
of what only ever grows, as `kept_ready` knows it of each. Where one of them is another, the people are looked at again.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from datetime import datetime
from typing import Any

from msgspec import Struct, field
from sqlalchemy import ColumnElement, Row, ScalarSelect, Select, String, cast, func, literal, select
from sqlalchemy.orm import Session

from trainer.accounts.actor import Actor
from trainer.groups.kept_ready import KeptJob, KeptPlace, kept_readiness
from trainer.groups.looks import note_looks_in_groups
from trainer.library.shelf import Library
from trainer.progress.needs import Readiness
from trainer.records import models

__all__ = ["Crew", "KeptBoard", "Look", "Members", "OnBoard", "PersonReady", "Rows", "kept_board", "note_who_looked"]

BETWEEN, END = "\x1f", "\x1e"
"""Between two values that are written out, and after a row: characters that no name has."""

Rows = Sequence[Row[*tuple[Any, ...]]]
Members = Select[*tuple[Any, ...]]
Jobs = Mapping[str, Readiness] | Mapping[str, KeptJob]


class PersonReady(Struct, frozen=True):
    """
    Somebody who shows readiness.

    Args:
        person: Public id.
        name: Name.
        jobs: How it stands with each job type, by its public id.
        group: Public id of a group towards which the person shows it.
        crews: Names of the groups that the person is in; only where several are shown together.
    """

    person: str
    name: str
    jobs: Jobs
    group: str
    crews: tuple[str, ...] = ()


class Crew(Struct, frozen=True):
    """A crew or class on the board: public id, name, and how many learn in it."""

    group: str
    name: str
    people: int


class OnBoard(Struct, frozen=True):
    """
    What is on a board.

    Args:
        people: Those who show readiness, by name.
        closed: Names of those who do not.
        looked_at: Keys of a group and a person: as leader of which group one looks at whom.
        crews: The groups that it is over; only where it is over several.
    """

    people: tuple[PersonReady, ...]
    closed: tuple[str, ...]
    looked_at: tuple[tuple[int, int], ...]
    crews: tuple[Crew, ...] = ()


class KeptBoard(Struct):
    """
    A board as it was put together last.

    Args:
        stamp: What it rests upon, in sums.
        until: Until when it is true at the longest.
        on: What is on it.
        noted: Until when it is on record that a reader looked at all of them, by key of that person.
    """

    stamp: tuple[Any, ...]
    until: datetime
    on: OnBoard
    noted: dict[int, datetime] = field(default_factory=dict)


class Look(Struct, frozen=True):
    """
    A look at people of a place.

    Args:
        session: Any session that has written nothing of what is looked at.
        library: The content.
        place: What is kept of the place, with the job types.
        whose: Keys of these people, and perhaps of some more.
        now: This moment.
        ahead: The moment that it is about, where that lies ahead; nobody answers anything until then.
    """

    session: Session
    library: Library
    place: KeptPlace
    whose: Select[int]
    now: datetime
    ahead: datetime | None = None

    def stand(self, people: Collection[int]) -> Mapping[int, Jobs]:
        """How they stand with the job types: now from what is kept, ahead of that worked out."""
        if self.ahead is None:
            return kept_readiness(self.session, self.library, self.place, people, whose=self.whose, now=self.now)
        return self.place.work_out(self.session, self.library, people, at=self.ahead)


def kept_board(look: Look, key: str, members: Members, put_together: Callable[[Rows], OnBoard]) -> KeptBoard:
    """
    A board of a place: as it is kept, or put together anew; of a moment ahead always that.

    Args:
        look: The look at it.
        key: The board among those of the place.
        members: All rows of who is on it, with the names and whatever else is shown of them.
        put_together: Makes the board of those rows.
    """
    boards, session, now = look.place.boards, look.session, look.now
    if look.ahead is not None:
        return KeptBoard((), now, put_together(session.execute(members).all()))
    stamp = tuple(session.execute(_stamp(members, look.whose)).one())
    kept: KeptBoard | None = boards.get(key)
    if kept is None or kept.stamp != stamp or now >= kept.until:
        on = put_together(session.execute(members).all())
        kept = boards[key] = KeptBoard(stamp, look.place.until((person for _, person in on.looked_at), now), on)
    return kept


def note_who_looked(session: Session, actor: Actor, kept: KeptBoard, *, what: str, now: datetime) -> None:
    """
    Note that someone looked at a board; nothing is asked while it is known to be on record for everybody on it.

    Args:
        session: A write session.
        actor: Who looked.
        kept: The board.
        what: At which part.
        now: This moment.
    """
    until = kept.noted.get(actor.person_id)
    if until is not None and now < until:
        return
    until = note_looks_in_groups(session, actor, kept.on.looked_at, what=what, now=now)
    # What was written only now may yet be rolled back: just what was read is known.
    if until is not None:
        kept.noted[actor.person_id] = until


def _stamp(members: Members, whose: Select[int]) -> Select[*tuple[Any, ...]]:
    """One row that is another one whenever something happens that the board rests upon."""
    person, finding, card = models.Person, models.FieldFinding, models.Registration
    check, signing, withdrawal = models.HandsOnCheck, models.CheckSigning, models.CheckWithdrawal
    signed = select(func.count(signing.id)).join(check, check.id == signing.check_id)
    withdrawn = select(func.count(withdrawal.id)).join(check, check.id == withdrawal.check_id)
    found = select(func.count(finding.id) + func.count(finding.withdrawn_at))
    carried = select(func.count(card.id) + func.count(card.ended_at))
    return select(
        _written_out(members),
        select(func.sum(person.answers_given + person.rebuilt)).where(person.id.in_(whose)).scalar_subquery(),
        signed.where(check.person_id.in_(whose)).scalar_subquery(),
        withdrawn.where(check.person_id.in_(whose)).scalar_subquery(),
        found.where(finding.person_id.in_(whose)).scalar_subquery(),
        carried.where(card.person_id.in_(whose)).scalar_subquery(),
    )


def _written_out(query: Members) -> ScalarSelect[str]:
    """All rows of a query in one text."""
    rows = query.order_by(None).subquery()
    line: ColumnElement[str] = literal("")
    for column in rows.columns:
        line = line + func.coalesce(cast(column, String), "") + BETWEEN
    return select(func.aggregate_strings(line, END)).scalar_subquery()
