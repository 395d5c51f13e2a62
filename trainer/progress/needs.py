"""
What a job type asks, where a person stands with it, and what comes of the two: plain values of readiness.

Ready means ready for this task under the supervision that the state requires, not that somebody may work alone.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, timedelta
from enum import StrEnum

from msgspec import Struct, field

from trainer.calc.message import Message
from trainer.progress.lapse import lapsed
from trainer.progress.points import Line
from trainer.progress.skill import SkillState

__all__ = [
    "CheckNeed",
    "Effort",
    "JobNeed",
    "Need",
    "Part",
    "Readiness",
    "Ready",
    "RegistrationNeed",
    "RunLine",
    "Shown",
    "SkillNeed",
    "SkillStanding",
]


class Ready(StrEnum):
    """How it stands, with a person and a job type or one part of it."""

    READY = "ready"
    DUE = "due"
    NOT_YET = "not-yet"


class SkillNeed(Struct, frozen=True):
    """A skill that a job type needs: id, title, and how strict ready is meant."""

    skill: str
    title: str
    line: Line


class CheckNeed(Struct, frozen=True):
    """A hands-on check that a job type needs: its kind, in one trade size."""

    kind: str
    trade_size: str


class RegistrationNeed(Struct, frozen=True):
    """That a person's card is entered and in date: a "registration", for which a license stands too, or a "licence"."""

    what: str


Need = SkillNeed | CheckNeed | RegistrationNeed


class JobNeed(Struct, frozen=True):
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
        registration: The card that must be entered and in date; None where none is asked.
    """

    job: str
    name: str
    supervision: str
    watched: bool
    valid: timedelta | None
    skills: tuple[SkillNeed, ...]
    checks: tuple[CheckNeed, ...]
    registration: RegistrationNeed | None = None


class RunLine(Struct, frozen=True):
    """A proof run as it is on record; `outcome` is "" while it is on its way, `watchers` names who sat there, in order."""

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
    watchers: tuple[str, ...] = ()

    def counts_for(self, line: Line, *, watched: bool) -> bool:
        """Whether it is as strict as asked and, where that is asked, watched."""
        return (line is Line.LIGHT or self.line is Line.STRICT) and (self.watched or not watched)

    def shows(self, line: Line, *, watched: bool) -> bool:
        """Whether it found the skill ready, as strict as asked and, where that is asked, watched."""
        return self.outcome == "ready" and self.counts_for(line, watched=watched)


class SkillStanding(Struct, frozen=True):
    """
    Where a person stands on a skill, as readiness sees it.

    Args:
        state: By the answers.
        runs: The person's proof runs in it, the first one first.
        mistakes: What the active known mistakes are called.
        practised: Practice problems since the last run that failed; None where none did.
        families: Kinds of question that a run could ask.
        finding: The trouble that the job showed last, in a few words; None where it showed none, or that was withdrawn.
        reported_at: When that was reported: only a run that began after it answers it.
    """

    state: SkillState
    runs: tuple[RunLine, ...] = ()
    mistakes: tuple[str, ...] = ()
    practised: int | None = None
    families: int = 0
    finding: Message | None = None
    reported_at: datetime | None = None

    def troubles(self, run: RunLine) -> bool:
        """Whether the job showed trouble that this run does not answer, since it had begun by then."""
        return self.reported_at is not None and run.started_at <= self.reported_at

    def holds(self, run: RunLine, now: datetime, *, valid: timedelta | None) -> bool:
        """Whether what this run showed still counts, where that is asked for again after `valid` (None for never)."""
        too_old = valid is not None and run.ended_at is not None and run.ended_at + valid <= now
        return not (too_old or self.troubles(run) or lapsed(self.state, run.ended_at or now, now))


class Shown(Struct, frozen=True):
    """
    What a person has besides skills.

    Args:
        signed: When each hands-on check was signed last.
        cards: Until when a card is in date, the latest of each kind: "registration" and "licence".
    """

    signed: Mapping[CheckNeed, datetime] = field(default_factory=dict)
    cards: Mapping[str, datetime] = field(default_factory=dict)


class Effort(Struct, frozen=True):
    """What is still to do: practice problems at the fewest, questions of a proof run as they usually are, and days."""

    practice: int
    questions: int
    days: int


class Part(Struct, frozen=True):
    """
    One thing that a job type asks, and how one person stands with it.

    Args:
        need: The skill, the hands-on check or the registration.
        state: How it stands.
        says: Why, in sentences.
        since: When it was shown or signed last; None where it never was.
        until: While it is ready: until when, if nothing is answered any more.
        effort: What is still to do for a skill; None for what is ready, and for a check.
        runs: The proof runs behind it, the newest first.
        to_be_watched: Whether it was found ready, and only needs somebody to watch.
    """

    need: Need
    state: Ready
    says: tuple[Message, ...]
    since: datetime | None = None
    until: datetime | None = None
    effort: Effort | None = None
    runs: tuple[RunLine, ...] = ()
    to_be_watched: bool = False


class Readiness(Struct, frozen=True):
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
