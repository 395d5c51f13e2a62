"""
Tries at assigned work: which problems were issued for its lines, and what came of each.

What counts for a line is the best honest try up to the due date: a first answer without a hint. After the due date a
line may still be practised, and counts no more. Who was given more time has a later due date than the others.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from datetime import datetime
from enum import IntEnum
from functools import cache
from typing import Any

from msgspec import Struct
from sqlalchemy import ColumnElement, Select, bindparam, func, or_, select
from sqlalchemy.orm import Session, aliased

from trainer.problems.model import VerdictKind
from trainer.progress.effect import CREDITED
from trainer.progress.room import more_time_until
from trainer.records.joins import problems_of_lines
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
    query = _issued_for() if person_id is None else _issued_to()
    which = {"works": works} if person_id is None else {"works": works, "person_id": person_id}
    heads: dict[int, Sequence[Any]] = {}
    answers: dict[int, list[Given]] = {}
    for row in session.execute(query, which):
        problem_id, head, given = row[0], row[1:HEAD_ENDS], row[HEAD_ENDS:]
        heads[problem_id] = head
        if given[0] is not None:
            answers.setdefault(problem_id, []).append(_given(given))
    return [
        Tried(
            work,
            position,
            person,
            problem,
            closed_at is None,
            tuple(answers.get(problem_id, ())),
            issued_at,
            until,
        )
        for problem_id, (work, position, person, problem, closed_at, issued_at, until) in heads.items()
    ]


HEAD_ENDS = 8
"""Columns of the query below that tell of the problem; those of one answer follow."""


@cache
def _issued_for() -> Select[*tuple[Any, ...]]:
    """
    What was issued for some works, with the answers and the grading that counts; built once, as pages of problems ask.

    Column by column: a whole row holds the numbers that were drawn too, which would be read for nothing.
    """
    later = aliased(Grading)
    newest = select(func.max(later.sequence)).where(later.answer_id == Answer.id).scalar_subquery()
    return (
        select(
            Problem.id,
            AssignedFamily.assigned_work_id,
            AssignedFamily.position,
            Problem.person_id,
            Problem.public_id,
            Problem.closed_at,
            Problem.issued_at,
            more_time_until(AssignedFamily.assigned_work_id, Problem.person_id),
            Answer.answered_at,
            Answer.typed,
            Answer.hints_seen,
            Grading.verdict,
            Grading.mistakes,
            Answer.value_read,
        )
        .select_from(AssignedFamily)
        .join(Problem, problems_of_lines())
        .outerjoin(Answer, Answer.problem_id == Problem.id)
        .outerjoin(Grading, (Grading.answer_id == Answer.id) & (Grading.sequence == newest))
        .where(AssignedFamily.assigned_work_id.in_(bindparam("works", expanding=True)))
        .order_by(Problem.id, Answer.attempt)
    )


@cache
def _issued_to() -> Select[*tuple[Any, ...]]:
    """The same of one person."""
    return _issued_for().where(Problem.person_id == bindparam("person_id"))


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


def _given(columns: Sequence[Any]) -> Given:
    answered_at, typed, hints, verdict, mistakes, value = columns
    return Given(answered_at, typed, hints, verdict, tuple(mistakes), value)
