"""The single answers of proof runs, for who may see the readiness that rests on them."""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime

from msgspec import Struct
from sqlalchemy.orm import Session

from trainer.accounts.refs import LearnerRef
from trainer.library.shelf import Library
from trainer.progress.evidence import latest_gradings
from trainer.records.models import Answer, Problem, ProofRun

__all__ = ["RunAnswer", "run_answers"]


class RunAnswer(Struct, frozen=True):
    """One answer of a run: when, which question (public id of the problem, title), and the verdict that counts."""

    answered_at: datetime
    problem: str
    title: str
    verdict: str


def run_answers(
    session: Session, library: Library, learner: LearnerRef, skills: Collection[str]
) -> dict[str, list[RunAnswer]]:
    """
    The answers of each proof run of a learner in these skills, by public id of the run, the first one first. One query.

    The caller has fetched the learner for readiness.
    """
    query = (
        latest_gradings()
        .add_columns(ProofRun.public_id)
        .join(ProofRun, ProofRun.id == Problem.proof_run_id)
        .where(ProofRun.person_id == learner.person_id, ProofRun.skill.in_(skills))
        .order_by(Answer.sequence)
    )
    found: dict[str, list[RunAnswer]] = {}
    for answer, grading, problem, run in session.execute(query):
        family = library.families.get(problem.family_id)
        title = family.title if family else problem.family_id
        line = RunAnswer(answer.answered_at, problem.public_id, title, grading.verdict)
        found.setdefault(run, []).append(line)
    return found
