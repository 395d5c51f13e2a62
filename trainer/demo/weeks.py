"""Weeks of practice, replayed moment by moment through the same use cases that a browser calls."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from functools import partial
from uuid import UUID

from msgspec import Struct

from trainer.demo.cast import Extra
from trainer.demo.moments import Moment, Scene
from trainer.demo.pretend import Pretend
from trainer.groups.open_line import open_line
from trainer.problems.model import VerdictKind
from trainer.progress.answering import AnswerResult, answer, show_steps
from trainer.progress.hints import hint
from trainer.progress.issue import issue
from trainer.progress.lessons import mark_read
from trainer.progress.sitting import sit_down

__all__ = ["Given", "give_answer", "sittings", "work_on"]

MOST_TRIES = 3


class Given(Struct, frozen=True):
    """A piece of assigned work: its id, how many lines it has, when it was given and when it is due."""

    work: str
    lines: int
    given_at: datetime
    due_at: datetime


def sittings(scene: Scene, extra: Extra, person_id: int, given: Sequence[Given]) -> list[Moment]:
    """When this person sits down: some lunch breaks and evenings, and once for most work given to the class."""
    days = max(0, (scene.now - scene.practice_from).days)
    found = []
    for day in range(days):
        if scene.chance.random() < extra.part.eager / 7:
            hour = 17 if scene.chance.random() < 0.5 else 25  # UTC: noon or evening, in the middle of the continent
            at = scene.practice_from.replace(hour=0, minute=0) + timedelta(
                days=day, hours=hour, minutes=int(scene.chance.random() * 50)
            )
            found.append(Moment(at, person_id, day, partial(_practise, scene, extra, person_id, day)))
    for number, piece in enumerate(given if extra.part.in_class else ()):
        if scene.chance.random() < 0.9:
            span = min(piece.due_at, scene.now) - piece.given_at
            at = piece.given_at + span * scene.chance.random()
            found.append(Moment(at, person_id, 1000 + number, partial(_do_work, scene, extra, person_id, piece)))
    return [moment for moment in found if moment.at > scene.practice_from]


def _practise(scene: Scene, extra: Extra, person_id: int, day: int, at: datetime) -> None:
    for lesson in [lesson for number, lesson in enumerate(scene.library.lessons) if number == day % 9]:
        mark_read(scene.session, scene.library, person_id, lesson, at)
        at += timedelta(minutes=4)
    for _ in range(3 + int(scene.chance.random() * 3)):
        problem = issue(scene.session, scene.library, person_id, now=at, edition=scene.edition)
        at = work_on(scene, extra.part.pretend, person_id, problem, at)


def _do_work(scene: Scene, extra: Extra, person_id: int, given: Given, at: datetime) -> None:
    # Some are called away before the last line: their work stands open.
    lines = given.lines if scene.chance.random() < 0.8 else given.lines - 1
    for position in range(1, lines + 1):
        problem = open_line(scene.session, scene.library, scene.who(person_id), given.work, position, now=at)
        at = work_on(scene, extra.part.pretend, person_id, problem, at)


def work_on(scene: Scene, pretend: Pretend, person_id: int, problem: str, at: datetime) -> datetime:
    """Answer until it is right or patience ends; gives back the time by then."""
    for attempt in range(MOST_TRIES):
        if attempt and scene.chance.random() < 0.4:
            hint(scene.session, scene.library, person_id, problem, now=at)
        at, result = give_answer(scene, pretend, person_id, problem, at)
        if result.verdict == VerdictKind.RIGHT:
            return at
        if scene.chance.random() < 0.4:
            break
    show_steps(scene.session, scene.library, person_id, problem, at)
    return at


def give_answer(
    scene: Scene, pretend: Pretend, person_id: int, problem: str, at: datetime
) -> tuple[datetime, AnswerResult]:
    """Answer once; gives back when, and what became of it."""
    at += timedelta(seconds=35 + int(scene.chance.random() * 110))
    sitting = sit_down(scene.session, scene.library, person_id, problem)
    skill = person_id, sitting.problem.skill
    typed = pretend.answer(sitting.problem, scene.practised[skill], scene.chance)
    scene.practised[skill] += 1
    key = str(UUID(int=scene.chance.getrandbits(128), version=4))
    return at, answer(scene.session, scene.library, person_id, problem, typed, answer_key=key, now=at, zone=scene.zone)
