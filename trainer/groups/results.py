"""What came of assigned work: who answered what, with which known mistakes, and how many made each of them."""

from __future__ import annotations

from datetime import datetime

from msgspec import Struct
from sqlalchemy.orm import Session

from trainer.accounts.access import WorkRef, assigned_work_led_by
from trainer.accounts.actor import Actor
from trainer.groups.lines import WorkLine, lines_of
from trainer.groups.looks import note_looks
from trainer.groups.points import Mark, PersonPoints, marks_at, points_of, set_aside_lines
from trainer.groups.tally import Learner, TallyLine, learners_of, tally
from trainer.groups.tries import Best, Came, Tried, best_of, tries_at
from trainer.library.shelf import Library

__all__ = ["LOOKED", "LineCount", "PersonResults", "TallyLine", "WorkResults", "results"]

LOOKED = "looked.assigned"


class LineCount(Struct, frozen=True):
    """One line of the work, and how many people came how far with it."""

    position: int
    family_id: str
    title: str
    answered: int
    right: int
    with_help: int


class PersonResults(Struct, frozen=True):
    """One learner's results, a `Best` for each line, and the points. `is_member` is False once the person has left."""

    id: int
    person: str
    display_name: str
    is_member: bool
    lines: tuple[Best, ...]
    points: PersonPoints

    @property
    def answered(self) -> int:
        """Lines that have an answer which counts."""
        return sum(line.first is not None for line in self.lines)

    @property
    def has_begun(self) -> bool:
        """Whether there is an answer that counts, as `desk.begun_in` counts it; a question that was only opened is none."""
        return self.answered > 0

    @property
    def right(self) -> int:
        """Lines right at the first try, without a hint."""
        return sum(line.came is Came.RIGHT for line in self.lines)


class WorkResults(Struct, frozen=True):
    """The results of a piece of work; the tally has the most frequent mistake first."""

    work: WorkRef
    lines: tuple[LineCount, ...]
    people: tuple[PersonResults, ...]
    tally: tuple[TallyLine, ...]


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
    marks, set_aside = marks_at(session, work.id), set_aside_lines(session, work.id)
    learners = learners_of(session, work.group.id, {one.person_id for one in tries} | marks.keys())
    people = tuple(
        _person(learner, work, lines, tries, marks=marks.get(learner.id, {}), set_aside=set_aside)
        for learner in learners
    )
    note_looks(session, actor, work.group.id, [learner.id for learner in learners], what=LOOKED, now=now)
    return WorkResults(
        work,
        tuple(_count(line, [person.lines[index] for person in people]) for index, line in enumerate(lines)),
        people,
        tally(lines, tries, work.due_at),
    )


def _person(
    learner: Learner,
    work: WorkRef,
    lines: list[WorkLine],
    tries: list[Tried],
    *,
    marks: dict[int, Mark],
    set_aside: set[int],
) -> PersonResults:
    own = [one for one in tries if one.person_id == learner.id]
    best = tuple(best_of([one for one in own if one.position == line.position], work.due_at) for line in lines)
    at = [line.position for line in lines]
    points = points_of(work.kind, own, at, work.due_at, marks=marks, set_aside=set_aside)
    return PersonResults(learner.id, learner.public_id, learner.display_name, learner.is_member, best, points)


def _count(line: WorkLine, best: list[Best]) -> LineCount:
    return LineCount(
        line.position,
        line.family.id,
        line.family.title,
        answered=sum(one.first is not None for one in best),
        right=sum(one.came is Came.RIGHT for one in best),
        with_help=sum(one.came is Came.WITH_HELP for one in best),
    )
