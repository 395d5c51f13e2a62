"""What to do in the next ten minutes, and why: one thing first, the others after it."""

from __future__ import annotations

from collections.abc import Container, Sequence
from datetime import datetime, timedelta
from enum import StrEnum

from msgspec import Struct
from sqlalchemy import ColumnElement, and_, select
from sqlalchemy.orm import Session

from trainer.calc.message import Message, Quantity
from trainer.library.shelf import Library
from trainer.progress.choose import next_problem
from trainer.progress.job_view import job_left
from trainer.progress.opening import fades_at
from trainer.progress.placement_run import PlacementView, person_with_placement
from trainer.progress.standings import Standings, standings_of
from trainer.records import models

__all__ = ["DueWork", "Kind", "Thing", "Today", "today"]

SOON = 3
"""Days before the due date from which assigned work comes first."""

MOST_OPEN = 3

FADING = timedelta(days=7)
"""So long before a skill that was found ready is due again, the page says so."""

MOST_REFRESHED = 2


class Kind(StrEnum):
    """What there is to do."""

    GO_ON = "go-on"
    JOB = "job"
    ASSIGNED = "assigned"
    LESSON = "lesson"
    PRACTICE = "practice"
    PLACEMENT = "placement"
    REFRESH = "refresh"


class DueWork(Struct, frozen=True):
    """
    Assigned work that is not done yet, as `trainer.groups.assigned.due_work` finds it.

    Args:
        work: Public id of the work.
        title: Its title.
        group: Name of the group that it was given to.
        due_at: When it is due.
        time_zone: Zone in which to show that.
        days_left: Whole days of the organisation's calendar until then; 0 is today.
        done: Lines that have an answer.
        lines: Lines in all.
        in_the_room: Whether it is done in the room, and open there now.
    """

    work: str
    title: str
    group: str
    due_at: datetime
    time_zone: str
    days_left: int
    done: int
    lines: int
    in_the_room: bool = False


class Thing(Struct, frozen=True):
    """
    One thing to do.

    Args:
        kind: What it is.
        title: What to call it; "" for the placement run, of which there is one.
        why: Why it stands here.
        problem: Public id of the open problem to go on with, or of the part of a job after which one goes on.
        work: Public id of the assigned work.
        lesson: Id of the lesson to read.
        minutes: How long the lesson takes.
        skill: Id of the skill that it is about.
    """

    kind: Kind
    title: str
    why: Message
    problem: str | None = None
    work: str | None = None
    lesson: str | None = None
    minutes: int | None = None
    skill: str | None = None


class Today(Struct, frozen=True):
    """What to do first, and what else there is. `first` is None on a shelf without questions; `is_new` before anything is done."""

    first: Thing | None
    others: tuple[Thing, ...]
    is_new: bool = False


def today(session: Session, library: Library, person_id: int, now: datetime, *, due: Sequence[DueWork] = ()) -> Today:
    """
    What to do now: work that is open in the room, an open problem, a job that was left, assigned work that is due soon,
    what was shown and fades, a new skill's lesson, practice.

    Args:
        session: Any session; nothing is written.
        library: The content.
        person_id: For whom.
        now: This moment.
        due: Assigned work that is not done, soonest first.
    """
    person, placement = person_with_placement(session, person_id)
    standings = standings_of(session, library, person_id, person.problems_issued, now)
    together = [work for work in due if work.in_the_room]
    alone = [work for work in due if not work.in_the_room]
    things = [
        *map(_assigned, together),
        *_open_problems(session, library, person_id),
        *_job_left(session, library, person_id, now),
        *(_assigned(work) for work in alone if work.days_left <= SOON),
        *_to_refresh(library, standings, now),
        *_next(library, standings, standings.read),
        *_placement(library, person, placement),
        *(_assigned(work) for work in alone if work.days_left > SOON),
    ]
    is_new = not person.problems_issued and not standings.read
    return Today(things[0] if things else None, tuple(things[1:]), is_new)


def _open_problems(session: Session, library: Library, person_id: int) -> list[Thing]:
    table = models.Problem
    query = select(table).where(table.person_id == person_id, table.closed_at.is_(None), ~_only_printed())
    query = query.order_by(table.id.desc())
    return [_go_on(library, problem) for problem in session.scalars(query.limit(MOST_OPEN))]


def _only_printed() -> ColumnElement[bool]:
    """Whether a problem was issued for a sheet of work on paper and no phone has begun it: nobody left it open."""
    table, line, work = models.Problem, models.AssignedFamily, models.AssignedWork
    printed = select(line.id).join(work).where(line.id == table.assigned_family_id, work.kind == "paper")
    answered = select(models.Answer.id).where(models.Answer.problem_id == table.id)
    return and_(printed.exists(), ~answered.exists(), table.hints_shown == 0)


def _go_on(library: Library, problem: models.Problem) -> Thing:
    family = library.families.get(problem.family_id)
    title = family.title if family else problem.family_id
    return Thing(Kind.GO_ON, title, Message("progress.today.open"), problem=problem.public_id, skill=problem.skill)


def _job_left(session: Session, library: Library, person_id: int, now: datetime) -> list[Thing]:
    """The job that was left between two of its parts."""
    left = job_left(session, library, person_id, now)
    if left is None:
        return []
    problem, place = left
    said = Message("progress.today.job", {"nth": place.nth + 1, "parts": len(place.job.parts)})
    return [Thing(Kind.JOB, place.job.title, said, problem=problem, skill=place.job.parts[place.nth].skill)]


def _placement(library: Library, person: models.Person, view: PlacementView) -> list[Thing]:
    """The placement run: to go on with, or offered to somebody who has answered nothing."""
    if not any(map(library.asks, library.skills)):
        return []
    if view.running and not view.question:
        said = Message("placement.today.running", {"left": Quantity(view.left, "questions")})
    elif view.picture is None and not view.running and not person.answers_given:
        said = Message("placement.today.offered")
    else:
        return []
    return [Thing(Kind.PLACEMENT, "", said)]


def _assigned(work: DueWork) -> Thing:
    params = {
        "group": work.group,
        "days": Quantity(work.days_left, "days"),
        "left": work.lines - work.done,
        "lines": work.lines,
    }
    when = "room" if work.in_the_room else "due-today" if work.days_left <= 0 else "due"
    return Thing(Kind.ASSIGNED, work.title, Message(f"progress.today.{when}", params), work=work.work)


def _to_refresh(library: Library, standings: Standings, now: datetime) -> list[Thing]:
    """What was found ready and is due again, or will be soon; the most urgent first, two at most."""
    found: list[tuple[datetime, Thing]] = []
    for skill, shown_at in standings.shown.items():
        line = standings.lines.get(skill)
        if line is None or not standings.families[skill]:
            continue
        ends = fades_at(line.state) or shown_at
        if line.refresh_due or ends <= now:
            said, ends = Message("progress.today.refresh"), min(ends, now)
        elif ends <= now + FADING:
            said = Message("progress.today.fading", {"days": Quantity(max(1, (ends - now).days), "days")})
        else:
            continue
        found.append((ends, Thing(Kind.REFRESH, library.skills[skill].title, said, skill=skill)))
    return [thing for _, thing in sorted(found, key=lambda one: one[0])[:MOST_REFRESHED]]


def _next(library: Library, standings: Standings, read: Container[str]) -> list[Thing]:
    """The skill whose turn it is: its lesson first, when it is new and the lesson was never read."""
    choice = next_problem(list(standings.lines.values()), standings.families)
    if choice is None:
        return []
    skill = library.skills[choice.skill]
    practice = Thing(Kind.PRACTICE, skill.title, choice.why, skill=skill.id)
    lesson = None if standings.lines[skill.id].begun else _unread_lesson(library, skill.id, read)
    return [practice] if lesson is None else [lesson, practice]


def _unread_lesson(library: Library, skill: str, read: Container[str]) -> Thing | None:
    """The first lesson of a skill that was not read yet; a later-year one only where the skill is all later-year work."""
    for lesson in library.lessons_of(skill):
        if lesson.id not in read and (not lesson.later or library.is_later(skill)):
            why = Message("progress.today.lesson", {"skill": library.skills[skill].title})
            return Thing(Kind.LESSON, lesson.title, why, lesson=lesson.id, minutes=lesson.minutes, skill=skill)
    return None
