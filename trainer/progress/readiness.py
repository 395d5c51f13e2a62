"""
Ready for a job type, person by person: every skill found ready and not due, every hands-on check signed and in date.

All must hold. Practice alone never says ready; and ready means ready for this task under the supervision that the state
requires, not that somebody may work alone. Pure: nothing here knows a clock or a table.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from enum import StrEnum
from math import ceil

from trainer.calc.message import Message, Quantity
from trainer.progress.opening import DUE_AFTER, fades_at, practice_left, waiting_for
from trainer.progress.points import LINES, Line
from trainer.progress.skill import SkillState

__all__ = [
    "CheckNeed",
    "Effort",
    "JobNeed",
    "Part",
    "Readiness",
    "Ready",
    "RunLine",
    "SkillNeed",
    "SkillStanding",
    "readiness",
]

USUAL_ANSWERS = {Line.STRICT: 29, Line.LIGHT: 15}
"""Answers that a first run takes of somebody who gets 9 of 10 right, on the average. Source: our own simulation."""

MOST_A_DAY = 8
ACROSS_DAYS = 2


class Ready(StrEnum):
    """How it stands, with a person and a job type or one part of it."""

    READY = "ready"
    DUE = "due"
    NOT_YET = "not-yet"


@dataclass(frozen=True, slots=True)
class SkillNeed:
    """A skill that a job type needs: id, title, and how strict ready is meant."""

    skill: str
    title: str
    line: Line


@dataclass(frozen=True, slots=True)
class CheckNeed:
    """A hands-on check that a job type needs: its kind, in one trade size."""

    kind: str
    trade_size: str


@dataclass(frozen=True, slots=True)
class JobNeed:
    """
    What a job type asks.

    Args:
        job: Its public id.
        name: What it is called.
        supervision: The supervision that it needs, in the owner's words.
        watched: Whether only watched proof runs count.
        valid: How long a run or a check counts; None where only fading ends it.
        skills: What must have been found ready.
        checks: What must be signed.
    """

    job: str
    name: str
    supervision: str
    watched: bool
    valid: timedelta | None
    skills: tuple[SkillNeed, ...]
    checks: tuple[CheckNeed, ...]


@dataclass(frozen=True, slots=True)
class RunLine:
    """A proof run as it is on record; `outcome` is "" while it is on its way."""

    run: str
    line: Line
    ready_at: float
    refreshes: bool
    points: float
    counted: int
    started_at: datetime
    ended_at: datetime | None
    outcome: str
    watched: bool

    def shows(self, line: Line, *, watched: bool) -> bool:
        """Whether it found the skill ready, as strict as asked and, where that is asked, watched."""
        as_strict = line is Line.LIGHT or self.line is Line.STRICT
        return self.outcome == "ready" and as_strict and (self.watched or not watched)


@dataclass(frozen=True, slots=True)
class SkillStanding:
    """
    Where a person stands on a skill, as readiness sees it.

    Args:
        state: By the answers.
        runs: The person's proof runs in it, the first one first.
        mistakes: What the active known mistakes are called.
        practised: Practice problems since the last run that failed; None where none did.
        families: Kinds of question that a run could ask.
        finding: What the job showed, in a few words, where that keeps the skill from counting; None where nothing does.
    """

    state: SkillState
    runs: tuple[RunLine, ...] = ()
    mistakes: tuple[str, ...] = ()
    practised: int | None = None
    families: int = 0
    finding: Message | None = None


@dataclass(frozen=True, slots=True)
class Effort:
    """What is still to do: practice problems at the fewest, questions of a proof run as they usually are, and days."""

    practice: int
    questions: int
    days: int


@dataclass(frozen=True, slots=True)
class Part:
    """
    One thing that a job type asks, and how one person stands with it.

    Args:
        need: The skill or the hands-on check.
        state: How it stands.
        says: Why, in sentences.
        since: When it was shown or signed last; None where it never was.
        until: While it is ready: until when, if nothing is answered any more.
        effort: What is still to do for a skill; None for what is ready, and for a check.
        runs: The proof runs behind it, the newest first.
    """

    need: SkillNeed | CheckNeed
    state: Ready
    says: tuple[Message, ...]
    since: datetime | None = None
    until: datetime | None = None
    effort: Effort | None = None
    runs: tuple[RunLine, ...] = ()


@dataclass(frozen=True, slots=True)
class Readiness:
    """One person and one job type."""

    need: JobNeed
    parts: tuple[Part, ...] = field(default_factory=tuple)

    @property
    def state(self) -> Ready:
        """All must hold; what is only due outweighs nothing that is missing."""
        states = {part.state for part in self.parts}
        return next((one for one in (Ready.NOT_YET, Ready.DUE) if one in states), Ready.READY)

    @property
    def missing(self) -> tuple[Part, ...]:
        """The parts that are not ready."""
        return tuple(part for part in self.parts if part.state is not Ready.READY)

    @property
    def until(self) -> datetime | None:
        """Until when all of it holds, if nothing is answered any more."""
        ends = [part.until for part in self.parts if part.until is not None]
        return min(ends) if ends and self.state is Ready.READY else None

    @property
    def days(self) -> int:
        """Days that the missing skills usually take, side by side: those of the longest."""
        return max((part.effort.days for part in self.parts if part.effort), default=0)


def readiness(
    need: JobNeed,
    standings: Mapping[str, SkillStanding],
    signed: Mapping[CheckNeed, datetime],
    now: datetime,
) -> Readiness:
    """
    How a person stands with a job type.

    Args:
        need: What it asks.
        standings: Where the person stands, by skill; every skill that is needed.
        signed: When each hands-on check was signed last.
        now: The moment that it is about, which may lie ahead.
    """
    skills = tuple(_skill(one, need, standings[one.skill], now) for one in need.skills)
    return Readiness(need, skills + tuple(_check(one, need, signed.get(one), now) for one in need.checks))


def _skill(need: SkillNeed, job: JobNeed, standing: SkillStanding, now: datetime) -> Part:
    newest = tuple(reversed(standing.runs))
    found = next((run for run in newest if run.shows(need.line, watched=job.watched)), None)
    if found is None or found.ended_at is None:
        says = _why_not_yet(need, job, standing, now)
        return Part(need, Ready.NOT_YET, says, effort=_effort(need, job, standing, now), runs=newest)
    ends = _ends(found.ended_at, job, standing)
    until = min(ends.values())
    if standing.finding is None and until > now:
        word = "readiness.watched" if found.watched else "readiness.unwatched"
        return Part(need, Ready.READY, (Message(word),), found.ended_at, until, runs=newest)
    why = Message(next(word for word, end in ends.items() if end == until))
    if standing.finding is not None:
        why = Message("readiness.finding", {"what": standing.finding})
    effort = _effort(need, job, standing, now)
    return Part(need, Ready.DUE, (why, *_next(job, standing, now)), found.ended_at, effort=effort, runs=newest)


def _ends(shown_at: datetime, job: JobNeed, standing: SkillStanding) -> dict[str, datetime]:
    """When what was shown ends, by the sentence that says why."""
    last, fades = standing.state.last_at or shown_at, fades_at(standing.state) or shown_at
    ends = {"readiness.left-alone" if fades == last + DUE_AFTER else "readiness.faded": fades}
    if job.valid is not None:
        ends["readiness.too-old"] = shown_at + job.valid
    return ends


def _why_not_yet(need: SkillNeed, job: JobNeed, standing: SkillStanding, now: datetime) -> tuple[Message, ...]:
    found = [run for run in standing.runs if run.outcome == "ready"]
    said: list[Message] = []
    if found and job.watched and not any(run.watched for run in found):
        said.append(Message("readiness.nobody-watched"))
    elif found and need.line is Line.STRICT and not any(run.line is Line.STRICT for run in found):
        said.append(Message("readiness.lighter"))
    return (*said, *_next(job, standing, now))


def _next(job: JobNeed, standing: SkillStanding, now: datetime) -> tuple[Message, ...]:
    """What comes next: the run on its way, what opens one, or that it is open."""
    run = _on_its_way(standing)
    if run is not None:
        so_far = {"points": f"{run.points:.1f}", "ready": f"{run.ready_at:.0f}"}
        return (Message("readiness.on-its-way", so_far | {"answers": Quantity(run.counted, "answers")}),)
    if waiting := _waiting(standing, now):
        return tuple(waiting)
    return (Message("readiness.open-watched" if job.watched else "readiness.open"),)


def _waiting(standing: SkillStanding, now: datetime) -> list[Message]:
    return waiting_for(
        standing.state,
        families=standing.families,
        mistakes=standing.mistakes,
        practised=standing.practised,
        now=now,
    )


def _on_its_way(standing: SkillStanding) -> RunLine | None:
    return next((run for run in reversed(standing.runs) if not run.outcome), None)


def _effort(need: SkillNeed, job: JobNeed, standing: SkillStanding, now: datetime) -> Effort:
    """What is usually still to do: practice until a run opens, and the run."""
    run = _on_its_way(standing)
    practice = 0 if run else practice_left(standing.state, practised=standing.practised, now=now)
    again = any(one.shows(need.line, watched=job.watched) for one in standing.runs)
    terms = LINES[need.line]
    whole = terms.again if again else terms.first
    left = max(0.0, run.ready_at - run.points) if run else whole
    questions = ceil(left * USUAL_ANSWERS[need.line] / terms.first)
    days = max(ceil(questions / MOST_A_DAY), 1 if run and run.counted else ACROSS_DAYS)
    return Effort(practice, questions, days + ceil(practice / MOST_A_DAY))


def _check(need: CheckNeed, job: JobNeed, signed_at: datetime | None, now: datetime) -> Part:
    if signed_at is None:
        return Part(need, Ready.NOT_YET, (Message("readiness.unsigned"),))
    until = None if job.valid is None else signed_at + job.valid
    if until is not None and until <= now:
        return Part(need, Ready.DUE, (Message("readiness.too-old"),), signed_at)
    return Part(need, Ready.READY, (Message("readiness.signed"),), signed_at, until)
