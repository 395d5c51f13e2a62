"""Weeks of practice, replayed moment by moment through the same use cases that a browser calls."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from random import Random
from uuid import UUID

from sqlalchemy.orm import Session

from trainer.accounts.actor import actor_of_person
from trainer.demo.cast import Extra
from trainer.groups.open_line import open_line
from trainer.library.shelf import Library
from trainer.problems.model import VerdictKind
from trainer.progress.answering import answer, show_steps
from trainer.progress.hints import hint
from trainer.progress.issue import issue
from trainer.progress.lessons import mark_read
from trainer.progress.sitting import sit_down

__all__ = ["Given", "Scene", "live_through"]

MOST_TRIES = 3


@dataclass(frozen=True, slots=True)
class Given:
    """A piece of assigned work: its id, how many lines it has, when it was given and when it is due."""

    work: str
    lines: int
    given_at: datetime
    due_at: datetime


@dataclass(frozen=True, slots=True)
class Scene:
    """What every invented sitting needs."""

    session: Session
    library: Library
    chance: Random
    edition: str
    now: datetime
    #: Answers that each person has given in each skill.
    practised: Counter[tuple[int, str]] = field(default_factory=Counter)


@dataclass(frozen=True, slots=True, order=True)
class _Sitting:
    """One person sits down once, for practice or for a piece of assigned work."""

    at: datetime
    person_id: int
    number: int
    work: str = ""
    lines: int = 0


def live_through(scene: Scene, cast: Sequence[tuple[Extra, int]], start: datetime, given: Sequence[Given]) -> None:
    """
    Let everyone practise and do assigned work, in the order of time.

    Args:
        scene: What it takes.
        cast: Each person with the key of the row.
        start: When it begins.
        given: Assigned work of the class.
    """
    people = {person_id: extra for extra, person_id in cast}
    sittings = [sitting for extra, person_id in cast for sitting in _sittings(scene, extra, person_id, start, given)]
    for sitting in sorted(sittings):
        extra = people[sitting.person_id]
        if sitting.work:
            _do_work(scene, extra, sitting)
        else:
            _practise(scene, extra, sitting)


def _sittings(scene: Scene, extra: Extra, person_id: int, start: datetime, given: Sequence[Given]) -> list[_Sitting]:
    """When this person sits down: some lunch breaks and evenings, and once for most work given to the class."""
    days = max(0, (scene.now - start).days)
    found = []
    for day in range(days):
        if scene.chance.random() < extra.eager / 7:
            hour = 17 if scene.chance.random() < 0.5 else 25  # UTC: noon or evening, in the middle of the continent
            at = start.replace(hour=0, minute=0) + timedelta(
                days=day, hours=hour, minutes=int(scene.chance.random() * 50)
            )
            found.append(_Sitting(at, person_id, day))
    for number, piece in enumerate(given if extra.in_class else ()):
        if scene.chance.random() < 0.9:
            span = min(piece.due_at, scene.now) - piece.given_at
            found.append(
                _Sitting(
                    piece.given_at + span * scene.chance.random(), person_id, 1000 + number, piece.work, piece.lines
                )
            )
    return [sitting for sitting in found if start < sitting.at < scene.now - timedelta(hours=1)]


def _practise(scene: Scene, extra: Extra, sitting: _Sitting) -> None:
    at = sitting.at
    unread = [lesson for number, lesson in enumerate(scene.library.lessons) if number == sitting.number % 9]
    for lesson in unread:
        mark_read(scene.session, scene.library, sitting.person_id, lesson, at)
        at += timedelta(minutes=4)
    for _ in range(3 + int(scene.chance.random() * 4)):
        problem = issue(scene.session, scene.library, sitting.person_id, now=at, edition=scene.edition)
        at = _work_on(scene, extra, sitting.person_id, problem, at)


def _do_work(scene: Scene, extra: Extra, sitting: _Sitting) -> None:
    at = sitting.at
    # Some are called away before the last line: their work stands open.
    lines = sitting.lines if scene.chance.random() < 0.8 else sitting.lines - 1
    for position in range(1, lines + 1):
        actor = actor_of_person(scene.session, sitting.person_id)
        problem = open_line(scene.session, scene.library, actor, sitting.work, position, now=at)
        at = _work_on(scene, extra, sitting.person_id, problem, at)


def _work_on(scene: Scene, extra: Extra, person_id: int, problem: str, at: datetime) -> datetime:
    """Answer until it is right or patience ends; gives back the time by then."""
    for attempt in range(MOST_TRIES):
        at += timedelta(seconds=35 + int(scene.chance.random() * 110))
        sitting = sit_down(scene.session, scene.library, person_id, problem)
        if attempt and scene.chance.random() < 0.4:
            hint(scene.session, scene.library, person_id, problem)
        skill = person_id, sitting.problem.skill
        typed = extra.pretend.answer(sitting.problem, scene.practised[skill], scene.chance)
        scene.practised[skill] += 1
        key = str(UUID(int=scene.chance.getrandbits(128), version=4))
        result = answer(scene.session, scene.library, person_id, problem, typed, answer_key=key, now=at)
        if result.verdict == VerdictKind.RIGHT:
            return at
        if scene.chance.random() < 0.4:
            break
    show_steps(scene.session, scene.library, person_id, problem, at)
    return at
