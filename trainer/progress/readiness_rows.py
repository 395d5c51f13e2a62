"""Where people stand with the skills of job types, and what was signed for them: the rows behind readiness, in bulk."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from datetime import datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from trainer.library.shelf import Library
from trainer.progress.alarm import alarmed_of_skills
from trainer.progress.field import adverse_findings_of_people
from trainer.progress.habits import active_mistakes_of_people
from trainer.progress.points import Line
from trainer.progress.proof import FAILED
from trainer.progress.proof_families import askable
from trainer.progress.readiness import CheckNeed, RunLine, SkillStanding
from trainer.progress.states import standing_state, states_of_people
from trainer.records import models

__all__ = ["run_line", "signed_checks", "standings_of_people"]


def standings_of_people(
    session: Session, library: Library, people: Collection[int], skills: Collection[str]
) -> dict[int, dict[str, SkillStanding]]:
    """
    Where people stand with skills, with six queries at the most, however many there are.

    Args:
        session: Any session.
        library: The content.
        people: Keys of persons.
        skills: Ids of skills; one that is on the shelf no longer can't be asked any more.
    """
    states = states_of_people(session, people)
    runs = _runs(session, people, skills)
    mistakes = active_mistakes_of_people(session, people)
    failed = {key for key, of_skill in runs.items() if any(run.outcome in FAILED for run in of_skill)}
    practised = _practised(session, people, skills) if failed else {}
    findings = adverse_findings_of_people(session, people)
    alarmed = alarmed_of_skills(session, library, skills)
    families = {skill: len(askable(library, skill, alarmed)) for skill in skills}
    return {
        person: {
            skill: SkillStanding(
                state=standing_state(skill, states.get(person, {})),
                runs=tuple(runs.get((person, skill), ())),
                mistakes=tuple(mistakes.get(person, {}).get(skill, {}).values()),
                practised=practised.get((person, skill), 0) if (person, skill) in failed else None,
                families=families[skill],
                finding=findings[person, skill].kind.words if (person, skill) in findings else None,
            )
            for skill in skills
        }
        for person in people
    }


def signed_checks(
    session: Session, organisation_id: int, people: Collection[int]
) -> dict[int, Mapping[CheckNeed, datetime]]:
    """When each hands-on check was signed last as done, by person; withdrawn ones left out. One query."""
    check, signing, withdrawal = models.HandsOnCheck, models.CheckSigning, models.CheckWithdrawal
    query = (
        select(check.person_id, check.kind, check.trade_size, func.max(signing.signed_at))
        .join(signing, signing.check_id == check.id)
        .outerjoin(withdrawal, withdrawal.check_id == check.id)
        .where(check.organisation_id == organisation_id, check.person_id.in_(people))
        .where(signing.judge == 1, signing.passed, withdrawal.id.is_(None))
        .group_by(check.person_id, check.kind, check.trade_size)
    )
    found: dict[int, dict[CheckNeed, datetime]] = {person: {} for person in people}
    for person, kind, trade_size, at in session.execute(query):
        found[person][CheckNeed(kind, trade_size)] = at
    return dict(found)


def run_line(run: models.ProofRun) -> RunLine:
    """A run as readiness reads it."""
    return RunLine(
        run=run.public_id,
        line=Line(run.line),
        ready_at=run.ready_at,
        refreshes=run.refreshes,
        points=run.points,
        counted=run.counted,
        started_at=run.started_at,
        ended_at=run.ended_at,
        outcome=run.outcome or "",
        watched=run.watched_by_id is not None,
    )


def _runs(
    session: Session, people: Collection[int], skills: Collection[str]
) -> Mapping[tuple[int, str], list[RunLine]]:
    table = models.ProofRun
    query = select(table).where(table.person_id.in_(people), table.skill.in_(skills)).order_by(table.id)
    found: dict[tuple[int, str], list[RunLine]] = {}
    for run in session.scalars(query):
        found.setdefault((run.person_id, run.skill), []).append(run_line(run))
    return found


def _practised(session: Session, people: Collection[int], skills: Collection[str]) -> Mapping[tuple[int, str], int]:
    """Problems answered outside of runs since the last run that failed, by person and skill."""
    run, problem, answer = models.ProofRun, models.Problem, models.Answer
    last = (
        select(run.person_id, run.skill, func.max(run.ended_at).label("ended_at"))
        .where(run.person_id.in_(people), run.skill.in_(skills), run.outcome.in_(FAILED))
        .group_by(run.person_id, run.skill)
        .subquery()
    )
    query = (
        select(problem.person_id, problem.skill, func.count(func.distinct(problem.id)))
        .join(answer, answer.problem_id == problem.id)
        .join(last, (last.c.person_id == problem.person_id) & (last.c.skill == problem.skill))
        .where(problem.proof_run_id.is_(None), answer.answered_at > last.c.ended_at)
        .group_by(problem.person_id, problem.skill)
    )
    return {(person, skill): count for person, skill, count in session.execute(query)}
