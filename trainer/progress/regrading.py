"""
Everything that was drawn from a family's rules, graded again: new gradings beside the old ones, and the records that
follow from them.

What would change is worked out by the same functions that change it, so that a page can show it before.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from datetime import datetime

from msgspec import Struct
from sqlalchemy import insert, select, update
from sqlalchemy.orm import Session

from trainer.calc.message import Message
from trainer.library.shelf import Library
from trainer.library.versions import family_at
from trainer.problems.check import check
from trainer.problems.model import VerdictKind
from trainer.problems.store import message_to_json, restore
from trainer.progress.effect import GAVE_UP, TELLS_NOTHING
from trainer.progress.evidence import answered_by_real_people, latest_gradings
from trainer.progress.question_tally import count_anew
from trainer.progress.replay import rebuild_people
from trainer.progress.replayed import replayed_points
from trainer.progress.rulings import DESK, Remedy, ruled_instead, under_ruling
from trainer.records import models
from trainer.records.locks import locked

__all__ = ["Change", "changes_under", "lock_holders", "put_through"]


class Judged(Struct, frozen=True):
    """What an answer is judged to be: verdict, known mistakes, what to say about it, basis of the key that it met."""

    verdict: str
    mistakes: tuple[str, ...]
    reason: Message | None = None
    basis: str = ""


class Change(Struct, frozen=True):
    """
    One answer whose grading a ruling changes.

    Args:
        answer_id: The answer.
        person_id: Whose.
        problem_id: To which problem.
        problem: Public id of that.
        assigned_family_id: The line of assigned work that it was for; None for all else.
        context: What it was issued for.
        run_id: The proof run that it belongs to; None without one.
        attempt: Which try.
        typed: As typed; "" when given up.
        graded: How many gradings it has so far.
        before: The verdict that counts now.
        after: What it becomes.
    """

    answer_id: int
    person_id: int
    problem_id: int
    problem: str
    assigned_family_id: int | None
    context: str
    run_id: int | None
    attempt: int
    typed: str
    graded: int
    before: str
    after: Judged

    @property
    def result_changes(self) -> bool:
        """Whether what is shown as the result changes, rather than only what is said about it."""
        return self.before != self.after.verdict


def changes_under(session: Session, library: Library, ruling: models.KeyRuling) -> list[Change]:
    """
    What a ruling changes, in the order of people and answers; nothing is written. Two queries.

    Args:
        session: Any session.
        library: The content.
        ruling: The ruling; it may be one that nobody has made yet.
    """
    if ruling.remedy == Remedy.DOUBT:
        return []
    of_rules = select(models.ContentVersion).where(models.ContentVersion.rules_hash == ruling.rules_hash)
    versions = {version.id: version for version in session.scalars(of_rules)}
    query = (
        latest_gradings()
        .where(models.Problem.content_version_id.in_(versions), answered_by_real_people())
        .order_by(models.Answer.person_id, models.Answer.sequence)
    )
    changes = []
    for answer, grading, problem in session.execute(query):
        version = versions[problem.content_version_id]
        if change := _change((answer, grading, problem), _judge_again(library, ruling, answer, problem, version)):
            changes.append(change)
    return changes


def lock_holders(session: Session, rules: str) -> None:
    """
    Lock everybody who has a problem that was drawn by these rules, in the order of their ids.

    Before the row of the family is: who answers locks himself first, too. No answer is under way after it.

    Args:
        session: A write session.
        rules: Hash of the rules.
    """
    person, problem, version = models.Person, models.Problem, models.ContentVersion
    of_rules = problem.content_version_id.in_(select(version.id).where(version.rules_hash == rules))
    holders = select(person).where(person.id.in_(select(problem.person_id).where(of_rules)))
    session.scalars(locked(holders.order_by(person.id))).all()


def put_through(
    session: Session, library: Library, ruling: models.KeyRuling, *, by_id: int, now: datetime
) -> list[Change]:
    """
    Grade again what a ruling changes, and rebuild the records of those whom it touches.

    A decided proof run keeps its decision; its points are summed anew. Where the key stands, those of every run that asked
    it are: what was closed in doubt counts after all. An open problem that is right now is closed.

    Args:
        session: A write session, in which `lock_holders` was called.
        library: The content.
        ruling: The ruling, on record.
        by_id: Who made it.
        now: This moment.
    """
    changes = changes_under(session, library, ruling)
    if changes:
        session.execute(insert(models.Grading), [_row(change, by_id, now) for change in changes])
        _close(session, changes, now)
        rebuild_people(session, sorted({change.person_id for change in changes}))
        count_anew(session, library, [ruling.rules_hash])
    runs = {change.run_id for change in changes if change.run_id is not None}
    if ruling.remedy == Remedy.STANDS:
        runs |= _runs_that_asked(session, ruling.rules_hash)
    _recount(session, runs)
    return changes


def _change(graded: tuple[models.Answer, models.Grading, models.Problem], after: Judged | None) -> Change | None:
    answer, grading, problem = graded
    if after is None or (after.verdict, after.mistakes) == (grading.verdict, tuple(grading.mistakes)):
        return None
    return Change(
        answer.id,
        answer.person_id,
        problem.id,
        problem.public_id,
        problem.assigned_family_id,
        problem.context,
        problem.proof_run_id,
        answer.attempt,
        answer.typed,
        grading.sequence,
        grading.verdict,
        after,
    )


def _judge_again(
    library: Library,
    ruling: models.KeyRuling,
    answer: models.Answer,
    row: models.Problem,
    version: models.ContentVersion,
) -> Judged | None:
    """What an answer is under a ruling; None where it cannot be read any more."""
    if instead := ruled_instead(ruling, answered=bool(answer.typed)):
        return Judged(instead, (), Message(f"keys.{instead}"))
    if not answer.typed:
        return Judged(GAVE_UP, ())
    family = family_at(library, version)
    problem = restore(family, row.seed, row.edition, row.drawn)
    _, problem = under_ruling(library, ruling, family, problem)
    verdict = check(problem, answer.typed)
    if verdict.kind is VerdictKind.UNREADABLE:
        return None
    reason = Message("keys.also-right") if verdict.basis == DESK else verdict.reason
    return Judged(verdict.kind.value, verdict.mistakes, reason, "" if verdict.basis == DESK else verdict.basis)


def _row(change: Change, by_id: int, now: datetime) -> dict[str, object]:
    after = change.after
    return {
        "answer_id": change.answer_id,
        "sequence": change.graded + 1,
        "verdict": after.verdict,
        "mistakes": list(after.mistakes),
        "reason": message_to_json(after.reason) if after.reason else None,
        "basis": after.basis,
        "graded_at": now,
        "graded_by_id": by_id,
    }


def _close(session: Session, changes: Sequence[Change], now: datetime) -> None:
    """Close what is still open and asks for nothing more."""
    done = {VerdictKind.RIGHT.value, *TELLS_NOTHING}
    problems = [change.problem_id for change in changes if change.after.verdict in done]
    still_open = update(models.Problem).where(models.Problem.id.in_(problems), models.Problem.closed_at.is_(None))
    session.execute(still_open.values(closed_at=now))


def _runs_that_asked(session: Session, rules: str) -> set[int]:
    problem, version = models.Problem, models.ContentVersion
    query = select(problem.proof_run_id).join(version, version.id == problem.content_version_id)
    asked = query.where(version.rules_hash == rules, problem.proof_run_id.is_not(None)).distinct()
    return {run for run in session.scalars(asked) if run is not None}


def _recount(session: Session, runs: Collection[int]) -> None:
    table = models.ProofRun
    if runs:
        for run in session.scalars(select(table).where(table.id.in_(runs)).order_by(table.id)).all():
            run.points, run.counted = replayed_points(session, run)
        session.flush()
