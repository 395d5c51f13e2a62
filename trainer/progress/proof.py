"""
Where a person stands with the proof run of a skill: closed and why, open to begin, on its way, decided; in plain values.

Practice tells when to try, only a run says "ready". Days are days of the person's own calendar.
"""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime, timedelta
from enum import StrEnum
from zoneinfo import ZoneInfo

from msgspec import Struct
from sqlalchemy.orm import Session

from trainer.calc.message import Message
from trainer.library.shelf import Library
from trainer.progress.alarm import alarmed_families
from trainer.progress.field import Finding, adverse_findings_of_people
from trainer.progress.habits import active_mistakes
from trainer.progress.lapse import lapsed
from trainer.progress.opening import DUE_AFTER, too_few, waiting_for
from trainer.progress.points import Line, Rule, rule_for
from trainer.progress.proof_families import askable
from trainer.progress.proof_past import PastRun, past_runs
from trainer.progress.proof_rows import counted_days, counted_today, practised_since, runs_of
from trainer.progress.readiness import ACROSS_DAYS, MOST_A_DAY
from trainer.progress.skill import SkillState
from trainer.progress.states import standing_state, states_of
from trainer.progress.watching import BesideLine, beside
from trainer.records import models

__all__ = [
    "ACROSS_DAYS",
    "DUE_AFTER",
    "FAILED",
    "MOST_A_DAY",
    "ProofState",
    "ProofView",
    "qualifies",
    "rule_of",
    "view_proof",
]


FAILED = frozenset({"not-yet", "abandoned"})
"""Outcomes of a run after which the next one asks for more."""


class ProofState(StrEnum):
    """What can be done about it now."""

    CLOSED = "closed"
    OPEN = "open"
    RUNNING = "running"
    UNATTENDED = "unattended"
    TOO_FEW = "too-few"
    TOMORROW = "tomorrow"
    READY = "ready"


class ProofView(Struct, frozen=True):
    """
    A skill's proof run, as its person and who may see the record read it.

    Args:
        skill: Id of the skill.
        state: What can be done now.
        waiting: While it is closed, or its run has to wait: what is missing, each in a sentence.
        run: Public id of the run on its way; "" for none.
        line: The line of that run, or of the next one.
        in_sight: Whether the run on its way is a watched one.
        beside: Who sits beside the person at that one now; None where nobody does.
        points: Of that run.
        ready_at: Points that decide in that run, or in the next one.
        counted: Its counted answers.
        days: Different days on which they were given.
        left_today: How many more count today.
        ready_since: When the skill was last found ready; None where it never was.
        due: Whether a skill found ready is to be shown again: it lapsed, was shown too long ago, or the job showed
            trouble.
        lapsed: Whether it lapsed since it was found ready, were it practised back up meanwhile.
        finding: What the job showed that a run has to answer, begun after it; None without.
        watched: Whether the run that found it ready was watched.
        watched_since: When a watched run found it ready last; None where none did.
        watched_due: Whether what that one showed has to be shown again.
        watched_ready_at: Points that decide in the next run that is watched from its start: an unwatched one shortens none.
        past: The runs that are decided, the newest first.
    """

    skill: str
    state: ProofState
    waiting: tuple[Message, ...]
    run: str
    line: Line
    in_sight: bool
    beside: BesideLine | None
    points: float
    ready_at: float
    counted: int
    days: int
    left_today: int
    ready_since: datetime | None
    due: bool
    lapsed: bool
    finding: Finding | None
    watched: bool
    watched_since: datetime | None
    watched_due: bool
    watched_ready_at: float
    past: tuple[PastRun, ...]


def view_proof(
    session: Session,
    library: Library,
    person_id: int,
    skill: str,
    *,
    now: datetime,
    zone: ZoneInfo,
    line: Line = Line.STRICT,
    watched: bool = False,
    valid: timedelta | None = None,
) -> ProofView:
    """
    Where a person stands with the proof run of a skill.

    Args:
        session: Any session; nothing is written.
        library: The content.
        person_id: Whose.
        skill: A skill of the library.
        now: This moment.
        zone: In which the person's days are counted.
        line: How strict "ready" is meant where it is asked: a run on the lighter line does not stand for the stricter.
        watched: Whether only a run that somebody watched counts.
        valid: How long what a run showed counts where it is asked; None where only fading ends it.
    """
    runs = runs_of(session, person_id, skill)
    open_run = next((run for run in runs if run.ended_at is None), None)
    found = next((run for run in reversed(runs) if qualifies(run, line, watched=watched)), None)
    in_view = next((run for run in reversed(runs) if qualifies(run, line, watched=True)), None)
    trouble = adverse_findings_of_people(session, [person_id]).get((person_id, skill))
    finding = None if found is not None and trouble is not None and _answers(found, trouble) else trouble
    stands = standing_state(skill, states_of(session, person_id))
    gone = found is not None and _lapsed(found, stands, now)
    due = found is not None and (gone or not _holds(found, trouble, valid, now))
    left = MOST_A_DAY - counted_today(session, person_id, skill, now=now, zone=zone)
    families = len(askable(library, skill, alarmed_families(session, library, skill)))
    if open_run:
        waiting = tuple(too_few(families))
    else:
        waiting = tuple(_waiting(session, person_id, skill, runs, stands=stands, families=families, now=now))
    in_sight = open_run is not None and open_run.watched_by_id is not None
    sitting = beside(session, open_run.id, now) if open_run is not None and in_sight else None
    if open_run is not None:
        state = _running_state(left, unattended=in_sight and sitting is None, too_few=bool(waiting))
    elif found is not None and not due:
        state = ProofState.READY
    elif waiting:
        state = ProofState.CLOSED
    else:
        state = ProofState.OPEN if left > 0 else ProofState.TOMORROW
    return ProofView(
        skill=skill,
        state=state,
        waiting=waiting,
        run=open_run.public_id if open_run else "",
        line=Line(open_run.line) if open_run else line,
        in_sight=in_sight,
        beside=sitting,
        points=open_run.points if open_run else 0.0,
        ready_at=open_run.ready_at if open_run else rule_of(runs, line, watched=watched).ready_at,
        counted=open_run.counted if open_run else 0,
        days=len(counted_days(session, open_run.id, zone)) if open_run else 0,
        left_today=max(left, 0),
        ready_since=found.ended_at if found else None,
        due=due,
        lapsed=gone,
        finding=finding,
        watched=found is not None and found.watched_by_id is not None,
        watched_since=in_view.ended_at if in_view else None,
        watched_due=in_view is not None and (_lapsed(in_view, stands, now) or not _holds(in_view, trouble, valid, now)),
        watched_ready_at=rule_of(runs, line, watched=True).ready_at,
        past=past_runs(session, person_id, runs),
    )


def qualifies(run: models.ProofRun, line: Line, *, watched: bool = False) -> bool:
    """Whether a run found the skill ready, as strict as is asked and, where that is asked, watched."""
    as_strict = line is Line.LIGHT or run.line == Line.STRICT
    return run.outcome == "ready" and as_strict and (run.watched_by_id is not None or not watched)


def rule_of(runs: Collection[models.ProofRun], line: Line = Line.STRICT, *, watched: bool = False) -> Rule:
    """The rule of the next run after these. It is a shorter one only after a ready run that would count as well."""
    failed, refreshes = 0, False
    for run in runs:
        if qualifies(run, line, watched=watched):
            failed, refreshes = 0, True
        elif run.outcome in FAILED:
            failed += 1
    return rule_for(line, failed=failed, refreshes=refreshes)


def _answers(run: models.ProofRun, trouble: Finding) -> bool:
    """Whether a run that found the skill ready began after what the job showed."""
    return run.started_at > trouble.reported_at


def _holds(run: models.ProofRun, trouble: Finding | None, valid: timedelta | None, now: datetime) -> bool:
    """Whether what a run showed counts yet, as long as it has not lapsed."""
    too_old = run.ended_at is not None and valid is not None and run.ended_at + valid <= now
    return not too_old and (trouble is None or _answers(run, trouble))


def _lapsed(run: models.ProofRun, stands: SkillState, now: datetime) -> bool:
    """Whether what a run showed has lapsed since then."""
    return run.ended_at is not None and lapsed(stands, run.ended_at, now)


def _running_state(left: int, *, unattended: bool, too_few: bool) -> ProofState:
    """What can be done about a run on its way."""
    if left <= 0:
        return ProofState.TOMORROW
    if too_few:
        return ProofState.TOO_FEW
    return ProofState.UNATTENDED if unattended else ProofState.RUNNING


def _waiting(
    session: Session,
    person_id: int,
    skill: str,
    runs: Collection[models.ProofRun],
    *,
    stands: SkillState,
    families: int,
    now: datetime,
) -> list[Message]:
    """What is missing before a run opens."""
    last = next((run for run in reversed([*runs]) if run.outcome in FAILED), None)
    since = last.ended_at if last else None
    return waiting_for(
        stands,
        families=families,
        mistakes=active_mistakes(session, person_id).get(skill, {}).values(),
        practised=practised_since(session, person_id, skill, since) if since else None,
        now=now,
    )
