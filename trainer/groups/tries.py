"""
Tries at assigned work: which problems were issued for its lines, and what came of each.

What counts for a line is the best honest try up to the due date: a first answer without a hint. After the due date a
line may still be practised, and counts no more. Who was given more time has a later due date than the others.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from datetime import datetime
from enum import IntEnum

from msgspec import Struct
from sqlalchemy import ColumnElement, func, or_, select
from sqlalchemy.orm import Session, aliased

from trainer.problems.model import VerdictKind
from trainer.progress.effect import CREDITED
from trainer.progress.room import more_time_until
from trainer.records.models import Answer, AssignedFamily, AssignedWork, Grading, Problem

__all__ = ["Best", "Came", "Given", "Tried", "answered_in_time", "best_of", "tries_at"]


class Came(IntEnum):
    """What came of a line, the best last."""

    NOT_BEGUN = 0
    OPEN = 1
    NOT_RIGHT = 2
    WITH_HELP = 3
    RIGHT = 4


class Given(Struct, frozen=True):
    """One answer to a problem of a line, with the grading that counts; `value` as it was read."""

    answered_at: datetime
    typed: str
    hints: int
    verdict: str
    mistakes: tuple[str, ...]
    value: object = None


class Tried(Struct, frozen=True):
    """
    One problem that was issued to a person for a line.

    Args:
        work_id: The work.
        position: The line.
        person_id: To whom.
        problem: Its public id.
        open: Whether it still takes answers.
        answers: The answers to it in their order.
        issued_at: When it was issued.
        more_time: Until when this person has more time than the others; None for no more.
    """

    work_id: int
    position: int
    person_id: int
    problem: str
    open: bool
    answers: tuple[Given, ...]
    issued_at: datetime | None = None
    more_time: datetime | None = None

    def in_time(self, due_at: datetime) -> tuple[Given, ...]:
        """The answers that count for work with this due date; with more time for this person, those until then."""
        last = max(due_at, self.more_time or due_at)
        return tuple(given for given in self.answers if given.answered_at <= last)


class Best(Struct, frozen=True):
    """
    What counts for one line of one person.

    Args:
        came: What came of it.
        problem: Public id of the problem that counts; None before there is one.
        first: The first answer to it, in time; None without one.
        tries: Problems of the line that were answered in time.
    """

    came: Came
    problem: str | None = None
    first: Given | None = None
    tries: int = 0


NOTHING = Best(Came.NOT_BEGUN)


def tries_at(session: Session, works: Collection[int], person_id: int | None = None) -> list[Tried]:
    """
    All problems issued for these works, in the order of issue, with one query.

    Args:
        session: Any session.
        works: Ids of the works.
        person_id: Whose; None for everybody's.
    """
    later = aliased(Grading)
    newest = select(func.max(later.sequence)).where(later.answer_id == Answer.id).scalar_subquery()
    query = (
        select(
            AssignedFamily.assigned_work_id,
            AssignedFamily.position,
            Problem,
            Answer,
            Grading,
            more_time_until(AssignedFamily.assigned_work_id, Problem.person_id),
        )
        .join(Problem, Problem.assigned_family_id == AssignedFamily.id)
        .outerjoin(Answer, Answer.problem_id == Problem.id)
        .outerjoin(Grading, (Grading.answer_id == Answer.id) & (Grading.sequence == newest))
        .where(AssignedFamily.assigned_work_id.in_(works))
        .order_by(Problem.id, Answer.attempt)
    )
    if person_id is not None:
        query = query.where(Problem.person_id == person_id)
    heads: dict[int, tuple[int, int, Problem, datetime | None]] = {}
    answers: dict[int, list[Given]] = {}
    for work_id, position, problem, answer, grading, until in session.execute(query):
        heads[problem.id] = work_id, position, problem, until
        if answer is not None:
            answers.setdefault(problem.id, []).append(_given(answer, grading))
    return [
        Tried(
            work,
            position,
            row.person_id,
            row.public_id,
            row.closed_at is None,
            tuple(answers.get(row.id, ())),
            row.issued_at,
            until,
        )
        for work, position, row, until in heads.values()
    ]


def answered_in_time() -> ColumnElement[bool]:
    """Whether an answer counts for its work: what `Tried.in_time` is, in a query over works, problems and answers."""
    until = more_time_until(AssignedWork.id, Problem.person_id)
    return or_(Answer.answered_at <= AssignedWork.due_at, Answer.answered_at <= until)


def best_of(tries: Iterable[Tried], due_at: datetime) -> Best:
    """What counts of the tries of one person at one line: the first of the best."""
    every = [_came_of(one, due_at) for one in tries]
    if not every:
        return NOTHING
    best = max(every, key=lambda one: one.came)
    return Best(best.came, best.problem, best.first, sum(one.first is not None for one in every))


def _came_of(one: Tried, due_at: datetime) -> Best:
    """What came of one problem in time."""
    in_time = one.in_time(due_at)
    if not in_time:
        return Best(Came.OPEN if one.open else Came.NOT_BEGUN, one.problem)
    first = in_time[0]
    if first.verdict == CREDITED or (first.verdict == VerdictKind.RIGHT and not first.hints):
        return Best(Came.RIGHT, one.problem, first)
    right = any(given.verdict == VerdictKind.RIGHT for given in in_time)
    return Best(Came.WITH_HELP if right else Came.NOT_RIGHT, one.problem, first)


def _given(answer: Answer, grading: Grading) -> Given:
    mistakes = tuple(grading.mistakes)
    return Given(
        answer.answered_at, answer.typed, answer.hints_seen, grading.verdict, mistakes, value=answer.value_read
    )
