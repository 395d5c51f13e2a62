"""
Ready for a job type, person by person: every skill found ready and not due, every hands-on check signed and in date, and
the card that is asked for entered and in date.

All must hold. Practice alone never says ready; and ready means ready for this task under the supervision that the state
requires, not that somebody may work alone. Pure: nothing here knows a clock or a table.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime, timedelta
from math import ceil

from msgspec import Struct

from trainer.calc.message import Message, Quantity
from trainer.progress.lapse import had_lapsed
from trainer.progress.needs import (
    CheckNeed,
    Effort,
    JobNeed,
    Need,
    Part,
    Readiness,
    Ready,
    RegistrationNeed,
    RunLine,
    Shown,
    SkillNeed,
    SkillStanding,
)
from trainer.progress.opening import DUE_AFTER, fades_at, practice_left, waiting_for
from trainer.progress.points import LINES, Line

__all__ = ["ACROSS_DAYS", "MOST_A_DAY", "Plan", "plan_of", "readiness", "readiness_of_jobs"]

MOST_A_DAY = 8
ACROSS_DAYS = 2


def readiness(
    need: JobNeed,
    standings: Mapping[str, SkillStanding],
    shown: Shown,
    now: datetime,
) -> Readiness:
    """
    How a person stands with a job type.

    Args:
        need: What it asks.
        standings: Where the person stands, by skill; every skill that is needed.
        shown: What the person has besides skills.
        now: The moment that it is about, which may lie ahead.
    """
    return readiness_of_jobs(plan_of([need]), standings, shown, now)[need.job]


class Plan(Struct, frozen=True):
    """
    What several job types ask, each thing once that some of them ask alike.

    Args:
        asked: The things, each with a job type that asks for it.
        jobs: Each job type with the places of its things among them.
    """

    asked: tuple[tuple[Need, JobNeed], ...]
    jobs: tuple[tuple[JobNeed, tuple[int, ...]], ...]


def plan_of(needs: Iterable[JobNeed]) -> Plan:
    """The plan of some job types; alike is what one asks for as strictly, watched or not, and for as long."""
    places: dict[tuple[Need, bool, timedelta | None], int] = {}
    asked: list[tuple[Need, JobNeed]] = []
    jobs = []
    for job in needs:
        of_job = []
        for need in (*([job.registration] if job.registration else ()), *job.skills, *job.checks):
            of_job.append(places.setdefault((need, job.watched, job.valid), len(places)))
            if len(places) > len(asked):
                asked.append((need, job))
        jobs.append((job, tuple(of_job)))
    return Plan(tuple(asked), tuple(jobs))


def readiness_of_jobs(
    plan: Plan, standings: Mapping[str, SkillStanding], shown: Shown, now: datetime
) -> dict[str, Readiness]:
    """
    How a person stands with several job types, by their ids; what some of them ask alike is one and the same part.

    Args:
        plan: What they ask.
        standings: As `readiness`.
        shown: As `readiness`.
        now: As `readiness`.
    """
    parts = [_part(need, job, standings, shown, now) for need, job in plan.asked]
    return {job.job: Readiness(job, tuple([parts[place] for place in places])) for job, places in plan.jobs}


def _part(need: Need, job: JobNeed, standings: Mapping[str, SkillStanding], shown: Shown, now: datetime) -> Part:
    """One thing that a job type asks, by what decides it: whether it asks for watched runs, and how long they count."""
    if isinstance(need, SkillNeed):
        return _skill(need, job, standings[need.skill], now)
    if isinstance(need, CheckNeed):
        return _check(need, job, shown.signed.get(need), now)
    return _card(need, shown, now)


def _skill(need: SkillNeed, job: JobNeed, standing: SkillStanding, now: datetime) -> Part:
    newest = tuple(reversed(standing.runs))
    found = next((run for run in newest if run.shows(need.line, watched=job.watched)), None)
    if found is None or found.ended_at is None:
        says, effort = _why_not_yet(need, job, standing, now), _effort(need, job, standing, now)
        alone = any(run.shows(need.line, watched=False) for run in newest)
        return Part(need, Ready.NOT_YET, says, effort=effort, runs=newest, to_be_watched=alone)
    ends = _ends(found.ended_at, job, standing)
    until = min(ends.values())
    troubled, lapsed = standing.troubles(found), had_lapsed(standing.state, found.ended_at)
    if not (troubled or lapsed) and until > now:
        word = "readiness.watched" if found.watched else "readiness.unwatched"
        return Part(need, Ready.READY, (Message(word),), found.ended_at, until, runs=newest)
    why = Message(next(word for word, end in ends.items() if end == until) if until <= now else "readiness.lapsed")
    if troubled and standing.finding is not None:
        why = Message("readiness.finding", {"what": standing.finding})
    effort = _effort(need, job, standing, now)
    return Part(need, Ready.DUE, (why, *_next(need, job, standing, now)), found.ended_at, effort=effort, runs=newest)


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
    return (*said, *_next(need, job, standing, now))


def _next(need: SkillNeed, job: JobNeed, standing: SkillStanding, now: datetime) -> tuple[Message, ...]:
    """What comes next: the run on its way, what opens one, or that it is open."""
    run = _on_its_way(standing)
    if run is not None and not run.counts_for(need.line, watched=job.watched):
        lacking = "unwatched" if job.watched and not run.watched else "lighter"
        return (Message(f"readiness.{lacking}-on-its-way"),)
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
    if run is not None and not run.counts_for(need.line, watched=job.watched):
        run = None
    practice = 0 if run else practice_left(standing.state, practised=standing.practised, now=now)
    again = any(one.shows(need.line, watched=job.watched) for one in standing.runs)
    terms = LINES[need.line]
    whole = terms.again if again else terms.first
    left = max(0.0, run.ready_at - run.points) if run else whole
    questions = ceil(left * terms.usual / terms.first)
    days = max(ceil(questions / MOST_A_DAY), 1 if run and run.counted else ACROSS_DAYS)
    return Effort(practice, questions, days + ceil(practice / MOST_A_DAY))


def _check(need: CheckNeed, job: JobNeed, signed_at: datetime | None, now: datetime) -> Part:
    if signed_at is None:
        return Part(need, Ready.NOT_YET, (Message("readiness.unsigned"),))
    until = None if job.valid is None else signed_at + job.valid
    if until is not None and until <= now:
        return Part(need, Ready.DUE, (Message("readiness.too-old"),), signed_at)
    return Part(need, Ready.READY, (Message("readiness.signed"),), signed_at, until)


def _card(need: RegistrationNeed, shown: Shown, now: datetime) -> Part:
    """A registration is as good as a license here: which of them suffices, those who read the card judge."""
    kinds = ("licence",) if need.what == "licence" else ("registration", "licence")
    ends = [shown.cards[kind] for kind in kinds if kind in shown.cards]
    if not ends:
        return Part(need, Ready.NOT_YET, (Message(f"readiness.no-{need.what}"),))
    if max(ends) <= now:
        return Part(need, Ready.DUE, (Message("readiness.card-over"),))
    return Part(need, Ready.READY, (Message("readiness.card"),), until=max(ends))
