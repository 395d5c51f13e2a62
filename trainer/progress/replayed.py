"""Whether the kept record of a person is the one that the answers give, to the last bit: skills, slips, proof runs."""

from __future__ import annotations

from collections.abc import Iterator

from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.problems.model import VerdictKind
from trainer.progress.effect import TELLS_NOTHING
from trainer.progress.evidence import latest_gradings
from trainer.progress.habits import as_history
from trainer.progress.points import Line, Rule
from trainer.progress.proof_rows import questions_in_doubt
from trainer.progress.replay import MistakeKey, replay
from trainer.progress.states import as_state, states_of
from trainer.records import models

__all__ = ["differences", "replayed_points"]


def differences(session: Session, person_id: int) -> list[str]:
    """
    Where the kept record of a person and a replay part, each in a line; nothing is written.

    Args:
        session: Any session.
        person_id: Whose.
    """
    return [*_of_skills(session, person_id), *_of_runs(session, person_id)]


def replayed_points(session: Session, run: models.ProofRun) -> tuple[float, int]:
    """The points of a run and its counted answers, summed again from the gradings that count, in their order."""
    query = latest_gradings().where(models.Problem.proof_run_id == run.id).order_by(models.Answer.sequence)
    last = {
        problem.id: (answer, grading, problem)
        for answer, grading, problem in session.execute(query)
        if problem.closed_at is not None
    }
    doubted = questions_in_doubt(session, run.id)
    last = {
        problem_id: entry
        for problem_id, entry in last.items()
        if problem_id not in doubted and entry[1].verdict not in TELLS_NOTHING
    }
    rule = Rule(Line(run.line), run.ready_at)
    points = 0.0
    for answer, grading, problem in sorted(last.values(), key=lambda entry: entry[0].sequence):
        each = rule.points(run.difficulties.get(problem.family_id, 0.0), answer.lucky)
        points += each.right if grading.verdict == VerdictKind.RIGHT else each.wrong
    return points, len(last)


def _of_skills(session: Session, person_id: int) -> Iterator[str]:
    found = replay(session, person_id)
    kept = {skill: as_state(row) for skill, row in states_of(session, person_id).items() if row.counted}
    for skill in sorted(kept.keys() | found.states.keys()):
        if kept.get(skill) != found.states.get(skill):
            yield f"{skill}: kept {kept.get(skill)}, replayed {found.states.get(skill)}"
    rows = session.scalars(select(models.MistakeHistory).where(models.MistakeHistory.person_id == person_id))
    histories = {MistakeKey(row.skill, row.family_id, row.mistake_id): as_history(row) for row in rows}
    for key in sorted(histories.keys() | found.histories.keys(), key=str):
        if histories.get(key) != found.histories.get(key):
            yield f"{key.family_id}, {key.mistake_id}: kept {histories.get(key)}, replayed {found.histories.get(key)}"


def _of_runs(session: Session, person_id: int) -> Iterator[str]:
    for run in session.scalars(select(models.ProofRun).where(models.ProofRun.person_id == person_id)):
        points, counted = replayed_points(session, run)
        if (points, counted) != (run.points, run.counted):
            kept = f"kept {run.points!r} points from {run.counted}"
            yield f"proof run {run.public_id}: {kept}, replayed {points!r} from {counted}"
