"""What an owner asks of a board: how many are ready, who goes stale, and what would make the most people ready soonest."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from trainer.figures.ready_tape import JobTally
from trainer.groups.ready_board import PersonReady, ReadyPeople
from trainer.progress.needs import Need, Part, Ready

__all__ = ["SOON", "Move", "Stale", "going_stale", "soonest", "tallies"]

SOON = timedelta(days=30)
MOST_MOVES = 3


@dataclass(frozen=True, slots=True)
class Stale:
    """What somebody has shown and soon has to show again, or has to already (`until` None), and for which jobs it counts."""

    person: PersonReady
    part: Part
    until: datetime | None
    jobs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Move:
    """
    One thing to learn or to have signed, and whom it makes ready.

    Args:
        need: The skill or the check.
        completes: Who lacks only this for which job type: names of person and job type.
        helps: For how many more it is one of several things that are missing.
        days: Days that it usually takes; 0 for a check.
    """

    need: Need
    completes: tuple[tuple[str, str], ...]
    helps: int
    days: int


def tallies(board: ReadyPeople) -> list[JobTally]:
    """How many are ready for each job type, due to show something again, and not ready yet."""
    return [
        JobTally(
            job.name,
            **{
                name: sum(person.jobs[job.job].state is state for person in board.people)
                for name, state in (("ready", Ready.READY), ("due", Ready.DUE), ("not_yet", Ready.NOT_YET))
            },
        )
        for job in board.jobs
    ]


def going_stale(board: ReadyPeople, within: timedelta = SOON) -> list[Stale]:
    """What has to be shown again by then, the soonest first; what is due already before it."""
    found: dict[tuple[str, Need], Stale] = {}
    for person in board.people:
        for job in board.jobs:
            for part in person.jobs[job.job].parts:
                ends = part.until is not None and part.until <= board.at + within
                if part.state is not Ready.DUE and not ends:
                    continue
                key = person.person, part.need
                jobs = (*found[key].jobs, job.name) if key in found else (job.name,)
                found[key] = Stale(person, part, part.until, jobs)
    return sorted(found.values(), key=lambda one: (one.until or board.at, one.person.name))


def soonest(board: ReadyPeople) -> list[Move]:
    """What would make the most people ready soonest: three things at most."""
    completes: dict[Need, list[tuple[str, str]]] = {}
    helps: dict[Need, int] = {}
    days: dict[Need, list[int]] = {}
    for person in board.people:
        for job in board.jobs:
            missing = person.jobs[job.job].missing
            for part in missing:
                helps[part.need] = helps.get(part.need, 0) + 1
                if len(missing) == 1:
                    completes.setdefault(part.need, []).append((person.name, job.name))
                    days.setdefault(part.need, []).append(part.effort.days if part.effort else 0)
    moves = [
        Move(
            need,
            tuple(completes.get(need, ())),
            helps[need] - len(completes.get(need, ())),
            max(days.get(need, [0])),
        )
        for need in helps
    ]
    return sorted(moves, key=lambda move: (-len(move.completes), move.days, -move.helps))[:MOST_MOVES]
