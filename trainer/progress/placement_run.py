"""A placement run: begun, asked, left and gone on with, ended by its first picture. It decides nothing about readiness."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta

from msgspec import Struct
from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.accounts.access import NotFoundError
from trainer.library.shelf import Library
from trainer.problems.model import VerdictKind
from trainer.progress.alarm import alarmed_families
from trainer.progress.effect import GAVE_UP
from trainer.progress.evidence import latest_gradings
from trainer.progress.placement import Question, most_telling
from trainer.progress.placement_picture import Picture, Told, picture_of, read_picture, write_picture
from trainer.progress.run_question import ask_in_run
from trainer.progress.standing import FamilyLine, Standing
from trainer.progress.standings import Standings, standings_of
from trainer.records import models
from trainer.records.locks import lock_person

__all__ = [
    "MOST_MINUTES",
    "MOST_QUESTIONS",
    "PlacementView",
    "begin_placement",
    "end_placement",
    "next_placement_question",
    "person_with_placement",
    "start_lesson",
    "view_placement",
]

MOST_QUESTIONS = 25
MOST_MINUTES = 25

LONGEST_QUESTION = timedelta(minutes=5)
"""What one question counts at most: who puts the phone away has not worked on it longer."""


class PlacementView(Struct, frozen=True):
    """
    How it stands.

    Args:
        running: Whether a run is on its way.
        asked: Its decided questions.
        minutes_left: What is left of its time [min], rounded up.
        question: Public id of its open question; "" for none.
        ended_at: When the last run that ended did; None without one.
        picture: What came of that one.
    """

    running: bool
    asked: int
    minutes_left: int
    question: str
    ended_at: datetime | None
    picture: Picture | None

    @property
    def left(self) -> int:
        """How many questions may still come."""
        return MOST_QUESTIONS - self.asked


def view_placement(session: Session, person_id: int) -> PlacementView:
    """How a person's placement run stands; nothing is written."""
    return person_with_placement(session, person_id)[1]


def person_with_placement(session: Session, person_id: int) -> tuple[models.Person, PlacementView]:
    """A person, and how the placement run stands: one query, and one more while a run is on its way."""
    person, table = models.Person, models.PlacementRun
    query = select(person, table).outerjoin(table, table.person_id == person.id).where(person.id == person_id)
    # At most one run is on its way, and that is the newest: of two the other one is the last that ended.
    found = session.execute(query.order_by(table.id.desc()).limit(2)).all()
    return found[0][0], _view(session, [run for _, run in found if run is not None])


def _view(session: Session, newest: Sequence[models.PlacementRun]) -> PlacementView:
    run = next((run for run in newest if run.ended_at is None), None)
    ended = next((run for run in newest if run.ended_at is not None), None)
    asked = _asked(session, run) if run else []
    return PlacementView(
        running=run is not None,
        asked=sum(problem.closed_at is not None for problem in asked),
        minutes_left=-((_spent(asked) - timedelta(minutes=MOST_MINUTES)) // timedelta(minutes=1)),
        question=next((problem.public_id for problem in asked if problem.closed_at is None), ""),
        ended_at=ended.ended_at if ended else None,
        picture=read_picture(ended.picture) if ended and ended.picture else None,
    )


def begin_placement(session: Session, person_id: int, now: datetime) -> None:
    """Begin a run, or go on with the one that is on its way."""
    lock_person(session, person_id)
    if _running(session, person_id) is None:
        session.add(models.PlacementRun(person_id=person_id, started_at=now))
        session.flush()


def next_placement_question(
    session: Session, library: Library, person_id: int, *, now: datetime, edition: str
) -> str | None:
    """
    The next question, or the one that is still open. Where all is asked, or the time is over, the run ends.

    Args:
        session: A write session.
        library: The content.
        person_id: Whose run.
        now: This moment.
        edition: Edition of the rules, pinned into the question.

    Returns:
        Public id of the problem; None when the run has ended.

    Raises:
        NotFoundError: When no run is on its way.
    """
    person = lock_person(session, person_id)
    run = _found(session, person_id)
    asked = _asked(session, run)
    if asked and asked[-1].closed_at is None:
        return asked[-1].public_id
    over = len(asked) >= MOST_QUESTIONS or _spent(asked) >= timedelta(minutes=MOST_MINUTES)
    standings = standings_of(session, library, person_id, person.problems_issued, now)
    question = None if over else _question(session, library, standings, {one.family_id for one in asked})
    if question is None:
        _end(session, library, run, now)
        return None
    family = library.families[question.family_id]
    return ask_in_run(
        session, person_id, family, now=now, edition=edition, context="placement", placement_run_id=run.id
    )


def end_placement(session: Session, library: Library, person_id: int, now: datetime) -> None:
    """
    End the run early with the picture of what was asked so far; an open question is closed unanswered.

    Raises:
        NotFoundError: When no run is on its way.
    """
    lock_person(session, person_id)
    run = _found(session, person_id)
    for problem in _asked(session, run):
        if problem.closed_at is None:
            problem.closed_at = now
    _end(session, library, run, now)


def start_lesson(library: Library, unit: str) -> str:
    """Id of the first lesson of a unit, one of a later year only where there is no other; "" where it has none."""
    of_unit = [lesson for lesson in library.lesson_heads.values() if lesson.unit == unit]
    return min(of_unit, key=lambda lesson: lesson.later).id if of_unit else ""


def _question(session: Session, library: Library, standings: Standings, without: set[str]) -> Question | None:
    """The most telling question whose key is not in doubt."""
    lines, families = _askable(library, standings)
    while question := most_telling(lines, families, without):
        if question.family_id not in alarmed_families(session, library, question.skill):
            return question
        without.add(question.family_id)
    return None


def _askable(library: Library, standings: Standings) -> tuple[list[Standing], dict[str, list[FamilyLine]]]:
    """The skills and what may be asked of each: nothing of a later year, and no parts of jobs, which hang together."""
    families = {
        skill: [line for line in lines if _stands_alone(library, line.id)]
        for skill, lines in standings.families.items()
    }
    return [line for line in standings.lines.values() if families[line.skill]], families


def _stands_alone(library: Library, family_id: str) -> bool:
    head = library.heads[family_id]
    return not head.job and not head.later


def _end(session: Session, library: Library, run: models.PlacementRun, now: datetime) -> None:
    units = dict.fromkeys(skill.unit for skill in library.skills.values() if library.asks(skill.id))
    run.picture = write_picture(picture_of(list(units), _told(session, run)))
    run.ended_at = now
    session.flush()


def _told(session: Session, run: models.PlacementRun) -> list[Told]:
    """What the decided questions of a run told: the last answer to each."""
    query = latest_gradings().where(models.Problem.placement_run_id == run.id).order_by(models.Answer.sequence)
    last = {problem.id: (grading, problem) for _, grading, problem in session.execute(query)}
    return [
        Told(problem.skill.partition(".")[0], grading.verdict == VerdictKind.RIGHT, grading.verdict == GAVE_UP)
        for grading, problem in last.values()
        if problem.closed_at is not None
    ]


def _spent(asked: Sequence[models.Problem]) -> timedelta:
    """Time at the decided questions."""
    times = (min(one.closed_at - one.issued_at, LONGEST_QUESTION) for one in asked if one.closed_at is not None)
    return sum(times, timedelta())


def _running(session: Session, person_id: int) -> models.PlacementRun | None:
    table = models.PlacementRun
    return session.scalar(select(table).where(table.person_id == person_id, table.ended_at.is_(None)))


def _found(session: Session, person_id: int) -> models.PlacementRun:
    run = _running(session, person_id)
    if run is None:
        raise NotFoundError
    return run


def _asked(session: Session, run: models.PlacementRun) -> list[models.Problem]:
    query = select(models.Problem).where(models.Problem.placement_run_id == run.id).order_by(models.Problem.id)
    return list(session.scalars(query))
