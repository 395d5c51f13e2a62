"""
A new hire's first two weeks as a plan with dates: what to read, practise and show on which working day.

It is a plan for somebody who gets along as people usually do; how it goes in truth is read from the board. Pure.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from enum import StrEnum

from msgspec import Struct

from trainer.progress.needs import CheckNeed, Part, Readiness, Ready, SkillNeed
from trainer.progress.readiness import MOST_A_DAY

__all__ = ["DAYS", "Plan", "PlanDay", "Task", "Todo", "plan"]

DAYS = 10
"""Working days of two weeks."""

QUESTIONS_A_DAY = 24
"""Problems and questions of one day: about half an hour."""

LESSONS_A_DAY = 2


class Todo(StrEnum):
    """What is to do."""

    READ = "read"
    PRACTISE = "practise"
    RUN = "run"
    CHECK = "check"


class Task(Struct, frozen=True):
    """One line of a day: what to do, with which skill or check, and with how many questions (0 for none)."""

    todo: Todo
    need: SkillNeed | CheckNeed
    number: int = 0
    lesson: str = ""
    lesson_title: str = ""


class PlanDay(Struct, frozen=True):
    """A working day and what is planned for it."""

    day: date
    tasks: tuple[Task, ...]


class Plan(Struct, frozen=True):
    """The days, and the skills and checks that do not fit into them."""

    days: tuple[PlanDay, ...]
    left: tuple[SkillNeed | CheckNeed, ...]


class _Still(Struct):
    """What is still to do about a skill."""

    need: SkillNeed
    practice: int
    questions: int
    lessons: list[tuple[str, str]]
    opened: int = -1


def plan(standing: Readiness, lessons: Mapping[str, Sequence[tuple[str, str]]], start: date, days: int = DAYS) -> Plan:
    """
    What to do on which day, so that as much as fits is ready at the end.

    A run is begun on the day after its practice; eight of its questions count a day. Hands-on checks come when the
    skills are through, at the latest on the last day.

    Args:
        standing: How the person stands with the job type.
        lessons: Unread lessons of each skill: id and title.
        start: The first day; a Saturday or Sunday means the Monday after it.
        days: How many working days.
    """
    still = [_still(part, lessons) for part in standing.missing if isinstance(part.need, SkillNeed)]
    checks = [part.need for part in standing.missing if isinstance(part.need, CheckNeed)]
    found: list[PlanDay] = []
    for number, day in enumerate(_working_days(start, days)):
        tasks = _day(still, number)
        if checks and (number == days - 1 or not any(_open(one) for one in still)):
            tasks += [Task(Todo.CHECK, check) for check in checks]
            checks = []
        found.append(PlanDay(day, tuple(tasks)))
    left = [one.need for one in still if _open(one)]
    return Plan(tuple(one for one in found if one.tasks), (*left, *checks))


def _still(part: Part, lessons: Mapping[str, Sequence[tuple[str, str]]]) -> _Still:
    if not isinstance(part.need, SkillNeed) or part.effort is None:
        raise TypeError("a skill that is not ready has its effort")
    unread = [] if part.state is Ready.DUE else [*lessons.get(part.need.skill, ())]
    return _Still(part.need, part.effort.practice, part.effort.questions, unread)


def _open(one: _Still) -> bool:
    return bool(one.practice or one.questions)


def _day(still: Sequence[_Still], number: int) -> list[Task]:
    """One day: the runs that are open first, then lessons and practice of the next skills."""
    left = QUESTIONS_A_DAY
    tasks: list[Task] = []
    for one in still:
        if not one.practice and one.questions and one.opened < number and left >= MOST_A_DAY:
            asked = min(MOST_A_DAY, one.questions)
            one.questions -= asked
            left -= asked
            tasks.append(Task(Todo.RUN, one.need, asked))
    read = 0
    for one in still:
        if not one.practice or left <= 0:
            continue
        while one.lessons and read < LESSONS_A_DAY:
            lesson, title = one.lessons.pop(0)
            tasks.append(Task(Todo.READ, one.need, lesson=lesson, lesson_title=title))
            read += 1
        if one.lessons:
            break
        done = min(left, one.practice)
        one.practice -= done
        left -= done
        one.opened = number
        tasks.append(Task(Todo.PRACTISE, one.need, done))
    return tasks


def _working_days(start: date, days: int) -> list[date]:
    """Mondays to Fridays from a day on."""
    found: list[date] = []
    day = start
    while len(found) < days:
        if day.weekday() < 5:
            found.append(day)
        day += timedelta(days=1)
    return found
