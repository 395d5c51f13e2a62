"""What an owner asks of a board: how many are ready, who goes stale, and what would make the most people ready soonest."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from weakref import WeakKeyDictionary

from msgspec import Struct
from msgspec.structs import replace

from trainer.figures.ready_tape import JobTally
from trainer.groups.kept_ready import LONGEST, KeptPlace
from trainer.groups.ready_board import PersonReady, ReadyPeople
from trainer.progress.needs import Need, Part, Ready

__all__ = ["SOON", "BoardAnswers", "Move", "Stale", "answers_of", "going_stale", "soonest", "tallies"]

SOON = timedelta(days=30)
MOST_MOVES = 3


class Stale(Struct, frozen=True):
    """What somebody has shown and soon has to show again, or has to already (`until` None), and for which jobs it counts."""

    person: PersonReady
    part: Part
    until: datetime | None
    jobs: tuple[str, ...]


class Move(Struct, frozen=True):
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


class BoardAnswers(Struct, frozen=True):
    """
    What a board answers.

    Args:
        tallies: How many are ready for each job type.
        who: The people by id of the job type and by how they stand with it, those who are nearest to being ready first.
        stale: What has to be shown again within `SOON`, the soonest first.
        moves: What would make the most people ready soonest.
    """

    tallies: tuple[JobTally, ...]
    who: Mapping[tuple[str, Ready], Sequence[PersonReady]]
    stale: tuple[Stale, ...]
    moves: tuple[Move, ...]


class _Answered(Struct, frozen=True):
    """The answers of a board, how its people stood then, and what goes stale some time after it was asked."""

    people: tuple[PersonReady, ...]
    answers: BoardAnswers
    stale: tuple[Stale, ...]


#: By what is kept of a place's people; the answers of its boards go with it.
_ANSWERED: WeakKeyDictionary[KeptPlace, dict[str, _Answered]] = WeakKeyDictionary()


def answers_of(board: ReadyPeople) -> BoardAnswers:
    """
    What a board answers now; those of last time where everybody stands on it as he did then.

    How people stand is compared by identity: `kept_ready` hands out the same values for as long as they are true.
    """
    kept = _ANSWERED.setdefault(board.place, {}) if board.place else {}
    last = kept.get(board.key)
    if last is None or not _same(last.people, board.people):
        last = kept[board.key] = _answered(board)
    soon = bisect_right(last.stale, board.at + SOON, key=lambda one: one.until or board.at)
    return replace(last.answers, stale=last.stale[:soon])


def _answered(board: ReadyPeople) -> _Answered:
    who = {(job.job, state): board.who(job, state) for job in board.jobs for state in Ready}
    found = BoardAnswers(tuple(tallies(board)), who, (), tuple(soonest(board)))
    return _Answered(board.people, found, tuple(going_stale(board, SOON + LONGEST)))


def _same(before: Sequence[PersonReady], now: Sequence[PersonReady]) -> bool:
    return before is now or (
        len(before) == len(now)
        and all(
            one.jobs is other.jobs
            and (one.person, one.name, one.group, one.crews) == (other.person, other.name, other.group, other.crews)
            for one, other in zip(before, now, strict=True)
        )
    )


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
                one = Stale(person, part, part.until, (job.name,))
                found[key] = _sooner(found[key], one) if key in found else one
    return sorted(found.values(), key=lambda one: (one.until or board.at, one.person.name))


def _sooner(before: Stale, other: Stale) -> Stale:
    """The one that ends first, of one thing that job types ask for, each as long as it is valid there; for all of them."""
    sooner = before.until is not None and (other.until is None or other.until < before.until)
    return replace(other if sooner else before, jobs=(*before.jobs, *other.jobs))


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
