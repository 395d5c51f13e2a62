"""A person's record as plain rows, to be taken out of the program: every answer, every skill, every proof run."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.library.shelf import Library
from trainer.progress.called import called
from trainer.progress.evidence import latest_gradings
from trainer.progress.record import SkillLine, skills_of
from trainer.progress.watching import watchers_of
from trainer.records import models

__all__ = [
    "SKILL_COLUMNS",
    "TABLES",
    "Cell",
    "Row",
    "answer_rows",
    "proof_rows",
    "skill_cells",
    "skill_rows",
    "written_at",
]

Cell = str | int | float | None
Row = tuple[Cell, ...]

SKILL_COLUMNS = (
    "Skill",
    "Answers that count",
    "On different days",
    "Right of 10 today",
    "Likely at least",
    "Likely at most",
    "Last answer",
    "Slips that come back",
)

TABLES = {
    "answers": (
        "When",
        "Question",
        "Skill",
        "Issued for",
        "Code",
        "Try",
        "Hints seen",
        "Answer as typed",
        "Verdict",
        "Slips",
    ),
    "skills": SKILL_COLUMNS,
    "proof-runs": (
        "Skill",
        "Begun",
        "Ended",
        "Outcome",
        "Questions counted",
        "Points",
        "Points that decide",
        "Line",
        "Watched",
        "Who sat beside",
    ),
}
"""The tables of a person's own record, with their columns."""


def answer_rows(session: Session, library: Library, person_id: int, zone: ZoneInfo) -> list[Row]:
    """Every answer of a person in its order, with the verdict that counts."""
    query = latest_gradings().where(models.Answer.person_id == person_id).order_by(models.Answer.sequence)
    return [_answer(library, answer, grading, problem, zone) for answer, grading, problem in session.execute(query)]


def skill_rows(session: Session, library: Library, person_id: int, now: datetime, zone: ZoneInfo) -> list[Row]:
    """Where a person stands on each skill that was begun."""
    return [skill_cells(line, zone) for line in skills_of(session, library, person_id, now) if line.counted]


def skill_cells(line: SkillLine, zone: ZoneInfo) -> Row:
    """One skill of one person; while it is too early to say, no number is given."""
    chances = (None if share is None else round(10 * share, 1) for share in (line.chance, line.low, line.high))
    return (line.title, line.counted, line.days, *chances, written_at(line.last_at, zone), "; ".join(line.mistakes))


def proof_rows(session: Session, library: Library, person_id: int, zone: ZoneInfo) -> list[Row]:
    """Every proof run of a person in its order."""
    table = models.ProofRun
    runs = session.scalars(select(table).where(table.person_id == person_id).order_by(table.id))
    there = watchers_of(session, [person_id])
    return [
        (
            _title(library, run.skill),
            written_at(run.started_at, zone),
            written_at(run.ended_at, zone),
            run.outcome or "under way",
            run.counted,
            run.points,
            run.ready_at,
            run.line,
            "no" if run.watched_by_id is None else "yes",
            "; ".join(there.get(run.id, ())),
        )
        for run in runs
    ]


def _answer(
    library: Library, answer: models.Answer, grading: models.Grading, problem: models.Problem, zone: ZoneInfo
) -> Row:
    family = library.families.get(problem.family_id)
    return (
        written_at(answer.answered_at, zone),
        family.title if family else problem.family_id,
        _title(library, problem.skill),
        problem.context,
        problem.code,
        answer.attempt,
        answer.hints_seen,
        answer.typed,
        grading.verdict,
        "; ".join(called(mistake, family) for mistake in grading.mistakes),
    )


def _title(library: Library, skill: str) -> str:
    found = library.skills.get(skill)
    return found.title if found else skill


def written_at(moment: datetime | None, zone: ZoneInfo) -> str:
    """A moment with its offset, to the second; "" for none."""
    return "" if moment is None else moment.astimezone(zone).isoformat(" ", "seconds")
