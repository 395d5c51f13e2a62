"""What came of assigned work: who answered what, with which known mistakes, and how many made each of them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.accounts.access import WorkRef, assigned_work_led_by
from trainer.accounts.actor import Actor
from trainer.calc.message import Message
from trainer.groups.lines import WorkLine, lines_of
from trainer.groups.looks import note_looks
from trainer.groups.tries import Best, Came, Tried, best_of, tries_at
from trainer.library.shelf import Library
from trainer.problems.parts import Family
from trainer.progress.called import called, did
from trainer.records.models import Membership, Person

__all__ = ["LineCount", "PersonResults", "TallyLine", "WorkResults", "results"]

LOOKED = "looked.assigned"


@dataclass(frozen=True, slots=True)
class LineCount:
    """One line of the work, and how many people came how far with it."""

    position: int
    family_id: str
    title: str
    answered: int
    right: int
    with_help: int


@dataclass(frozen=True, slots=True)
class PersonResults:
    """One learner's results, a `Best` for each line. `is_member` is False once the person has left."""

    person: str
    display_name: str
    is_member: bool
    lines: tuple[Best, ...]

    @property
    def answered(self) -> int:
        """Lines that have an answer which counts."""
        return sum(line.first is not None for line in self.lines)

    @property
    def right(self) -> int:
        """Lines right at the first try, without a hint."""
        return sum(line.came is Came.RIGHT for line in self.lines)


@dataclass(frozen=True, slots=True)
class TallyLine:
    """How many of those who answered a family's problems made a known mistake; `words` says it in a sentence."""

    family_id: str
    title: str
    mistake: str
    people: int
    of: int
    words: Message


@dataclass(frozen=True, slots=True)
class WorkResults:
    """The results of a piece of work; the tally has the most frequent mistake first."""

    work: WorkRef
    lines: tuple[LineCount, ...]
    people: tuple[PersonResults, ...]
    tally: tuple[TallyLine, ...]


@dataclass(frozen=True, slots=True)
class Learner:
    """Someone who learns or learned in the group."""

    id: int
    public_id: str
    display_name: str
    is_member: bool


def results(session: Session, library: Library, actor: Actor, work_public_id: str, now: datetime) -> WorkResults:
    """
    The results of assigned work, for who leads its group. That he looked is noted for each learner.

    Args:
        session: A write session.
        library: The content.
        actor: Who asks.
        work_public_id: The work.
        now: This moment.

    Raises:
        NotFoundError: When the work is not his to know of.
        NotAllowedError: When he does not lead its group.
    """
    work = assigned_work_led_by(session, actor, work_public_id)
    lines = lines_of(session, library, [work.id]).get(work.id, [])
    tries = tries_at(session, [work.id])
    learners = _learners(session, work.group.id, {one.person_id for one in tries})
    people = tuple(_person(learner, lines, tries, work.due_at) for learner in learners)
    note_looks(session, actor, work.group.id, [learner.id for learner in learners], what=LOOKED, now=now)
    return WorkResults(
        work,
        tuple(_count(line, [person.lines[index] for person in people]) for index, line in enumerate(lines)),
        people,
        _tally(lines, tries, work.due_at),
    )


def _learners(session: Session, group_id: int, tried: set[int]) -> list[Learner]:
    """Members by name; then those who have left and did some of the work."""
    query = (
        select(Person, Membership.ended_at)
        .join(Membership, Membership.person_id == Person.id)
        .where(Membership.group_id == group_id, Membership.role == "learner")
        .order_by(Person.display_name, Person.id)
    )
    found: dict[int, Learner] = {}
    for person, ended_at in session.execute(query):
        is_member = ended_at is None or (person.id in found and found[person.id].is_member)
        found[person.id] = Learner(person.id, person.public_id, person.display_name, is_member)
    shown = [learner for learner in found.values() if learner.is_member or learner.id in tried]
    return sorted(shown, key=lambda learner: not learner.is_member)


def _person(learner: Learner, lines: list[WorkLine], tries: list[Tried], due_at: datetime) -> PersonResults:
    own = [one for one in tries if one.person_id == learner.id]
    best = tuple(best_of([one for one in own if one.position == line.position], due_at) for line in lines)
    return PersonResults(learner.public_id, learner.display_name, learner.is_member, best)


def _count(line: WorkLine, best: list[Best]) -> LineCount:
    return LineCount(
        line.position,
        line.family.id,
        line.family.title,
        answered=sum(one.first is not None for one in best),
        right=sum(one.came is Came.RIGHT for one in best),
        with_help=sum(one.came is Came.WITH_HELP for one in best),
    )


def _tally(lines: list[WorkLine], tries: list[Tried], due_at: datetime) -> tuple[TallyLine, ...]:
    """For each family and known mistake: how many people showed it in a first answer, of those who gave one."""
    families = {line.family.id: line.family for line in lines}
    family_at = {line.position: line.family.id for line in lines}
    answered: dict[str, set[int]] = {}
    showed: dict[tuple[str, str], set[int]] = {}
    for one in tries:
        family_id = family_at[one.position]
        for mistake in _first_mistakes(one, due_at, answered.setdefault(family_id, set())):
            showed.setdefault((family_id, mistake), set()).add(one.person_id)
    tally = [
        _tally_line(families[family_id], mistake, len(people), len(answered[family_id]))
        for (family_id, mistake), people in showed.items()
    ]
    return tuple(sorted(tally, key=lambda line: (-line.people, line.title, line.mistake)))


def _first_mistakes(one: Tried, due_at: datetime, answered: set[int]) -> Iterable[str]:
    """Known mistakes of the first answer to a problem; notes who gave one in time."""
    if not one.answers or one.answers[0].answered_at > due_at:
        return ()
    answered.add(one.person_id)
    return one.answers[0].mistakes


def _tally_line(family: Family, mistake: str, people: int, of: int) -> TallyLine:
    counted = {"people": people, "of": of, "mistake": called(mistake, family)}
    words = Message("groups.tally-did", counted) if did(mistake, family) else Message("groups.tally", counted)
    return TallyLine(family.id, family.title, mistake, people, of, words)
