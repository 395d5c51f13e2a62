"""What an answer does to the proof run that its question belongs to: nothing yet, points, or the decision."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.accounts.access import NotAllowedError
from trainer.calc.message import Message
from trainer.problems.model import VerdictKind
from trainer.progress.points import Line, Rule
from trainer.progress.proof import ACROSS_DAYS
from trainer.progress.proof_rows import counted_days
from trainer.progress.sitting import Sitting
from trainer.records import models

__all__ = ["closes", "count_answer", "end", "refuse_help_beside_proof"]

#: Verdicts that say nothing of the skill: the question is asked once more, and only the second try counts.
ONCE_MORE = frozenset({VerdictKind.UNIT, VerdictKind.ROUNDED})


def closes(sitting: Sitting, verdict: VerdictKind) -> bool:
    """Whether an answer with this verdict closes its problem: right does, and in a run (placement too) whatever counts."""
    if verdict is VerdictKind.RIGHT:
        return True
    if sitting.row.proof_run_id is None and sitting.row.placement_run_id is None:
        return False
    return verdict not in ONCE_MORE or sitting.answered > 0


def count_answer(
    session: Session, problem: models.Problem, grading: models.Grading, *, now: datetime, zone: ZoneInfo
) -> None:
    """
    Count the answer that closed a question of a run, and decide where that decides. Nothing for other problems, and
    nothing for a question whose key is in doubt, were it by this very answer.

    Args:
        session: A write session; the person is locked, answer and grading are written.
        problem: The problem, closed.
        grading: How its last answer was judged.
        now: This moment.
        zone: In which the person's days are counted.
    """
    if problem.proof_run_id is None:
        return
    run = session.get_one(models.ProofRun, problem.proof_run_id)
    if run.ended_at is not None or _in_doubt(session, problem):
        return
    answer = session.get_one(models.Answer, grading.answer_id)
    rule = Rule(Line(run.line), run.ready_at)
    points = rule.points(run.difficulties.get(problem.family_id, 0.0), answer.lucky)
    run.points += points.right if grading.verdict == VerdictKind.RIGHT else points.wrong
    run.counted += 1
    session.flush()
    if run.points >= rule.ready_at and len(counted_days(session, run.id, zone)) >= ACROSS_DAYS:
        end(run, "ready", now)
    elif run.points <= rule.stop_at or run.counted >= rule.most:
        end(run, "not-yet", now)


def end(run: models.ProofRun, outcome: str, now: datetime) -> None:
    """End a run: "ready", "not-yet", "abandoned", or "empty" where nothing was answered."""
    run.outcome = outcome
    run.ended_at = now


def refuse_help_beside_proof(session: Session, problem: models.Problem) -> None:
    """
    No hints in a run, and no hints or steps of another problem while a question of one is open.

    Raises:
        NotAllowedError: When that is so.
    """
    table = models.Problem
    query = select(table.id).where(
        table.person_id == problem.person_id, table.context == "proof", table.closed_at.is_(None)
    )
    if any(found != problem.id for found in session.scalars(query)):
        raise NotAllowedError(Message("proof.no-help"))


def _in_doubt(session: Session, problem: models.Problem) -> bool:
    """Whether the key of the problem's family, in its version, is in doubt."""
    family, version = models.FamilyDifficulty, models.ContentVersion
    query = select(family.id).join(version, version.rules_hash == family.rules_hash)
    in_doubt = query.where(version.id == problem.content_version_id, family.alarmed_at.is_not(None))
    return session.scalar(in_doubt.limit(1)) is not None
