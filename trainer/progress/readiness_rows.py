"""Where people stand with the skills of job types, and what was signed for them: the rows behind readiness, in bulk."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from datetime import date, datetime, time
from typing import Any
from zoneinfo import ZoneInfo

from msgspec.structs import replace
from sqlalchemy import Row, exists, func, select
from sqlalchemy.orm import Session, aliased

from trainer.library.shelf import Library
from trainer.progress.alarm import alarmed_of_skills
from trainer.progress.field import adverse_findings_of_people
from trainer.progress.habits import active_mistakes_of_people
from trainer.progress.needs import CheckNeed, RunLine, Shown, SkillStanding
from trainer.progress.points import Line
from trainer.progress.proof import FAILED
from trainer.progress.proof_families import askable
from trainer.progress.states import known_states, standing_among
from trainer.records import models

__all__ = ["shown_besides", "standings_of_people"]

LAST_OF_ALL = date(9999, 12, 30)


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
    states = known_states(session, people)
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
                state=standing_among(skill, states.get(person, {})),
                runs=tuple(runs.get((person, skill), ())),
                mistakes=tuple(mistakes.get(person, {}).get(skill, {}).values()),
                practised=practised.get((person, skill), 0) if (person, skill) in failed else None,
                families=families[skill],
                finding=found.kind.words if (found := findings.get((person, skill))) else None,
                reported_at=found.reported_at if found else None,
            )
            for skill in skills
        }
        for person in people
    }


def shown_besides(
    session: Session, zones: Mapping[int, ZoneInfo], people: Collection[int]
) -> dict[tuple[int, int], Shown]:
    """
    What people have besides skills, by organisation and person, with two queries.

    Args:
        session: Any session.
        zones: The zone of each organisation, by its key: a card is in date to the end of its last day there.
        people: Keys of persons.
    """
    signed, cards = _signed(session, zones, people), _cards(session, people)
    return {
        (place, person): Shown(
            signed.get((place, person), {}),
            {what: _end_of(last, zone) for what, last in cards.get(person, {}).items()},
        )
        for place, zone in zones.items()
        for person in people
    }


def _end_of(last: date, zone: ZoneInfo) -> datetime:
    """When the last day of a card is over. A card for ever was entered as one of the year 9999, which has no end in UTC."""
    return datetime.combine(min(last, LAST_OF_ALL), time.max, zone)


def _signed(
    session: Session, organisations: Collection[int], people: Collection[int]
) -> dict[tuple[int, int], dict[CheckNeed, datetime]]:
    """When each hands-on check was signed last, passed before every judge of it; withdrawn ones left out."""
    check, signing, withdrawal = models.HandsOnCheck, models.CheckSigning, models.CheckWithdrawal
    other = aliased(signing)
    failed = exists().where(other.check_id == check.id, ~other.passed)
    query = (
        select(check.organisation_id, check.person_id, check.kind, check.trade_size, func.max(signing.signed_at))
        .join(signing, signing.check_id == check.id)
        .outerjoin(withdrawal, withdrawal.check_id == check.id)
        .where(check.organisation_id.in_(organisations), check.person_id.in_(people))
        .where(signing.judge == 1, signing.passed, withdrawal.id.is_(None), ~failed)
        .group_by(check.organisation_id, check.person_id, check.kind, check.trade_size)
    )
    found: dict[tuple[int, int], dict[CheckNeed, datetime]] = {}
    for place, person, kind, trade_size, at in session.execute(query):
        found.setdefault((place, person), {})[CheckNeed(kind, trade_size)] = at
    return found


def _cards(session: Session, people: Collection[int]) -> dict[int, dict[str, date]]:
    """The latest last day of each kind of card that people have entered, by person."""
    card = models.Registration
    query = (
        select(card.person_id, card.what, func.max(card.expires_on))
        .where(card.person_id.in_(people), card.ended_at.is_(None))
        .group_by(card.person_id, card.what)
    )
    found: dict[int, dict[str, date]] = {}
    for person, what, last in session.execute(query):
        found.setdefault(person, {})[what] = last
    return found


def _runs(
    session: Session, people: Collection[int], skills: Collection[str]
) -> Mapping[tuple[int, str], list[RunLine]]:
    run, sitting, watcher = models.ProofRun, models.ProofSitting, models.Person
    of_whom = (
        run.person_id,
        run.skill,
        run.public_id,
        run.line,
        run.watched_by_id,
        watcher.display_name.label("watcher"),
    )
    columns = (run.ready_at, run.refreshes, run.points, run.counted, run.started_at, run.ended_at, run.outcome)
    query = (
        select(*of_whom, *columns)
        .outerjoin(sitting, sitting.run_id == run.id)
        .outerjoin(watcher, watcher.id == func.coalesce(sitting.watcher_id, run.watched_by_id))
        .where(run.person_id.in_(people), run.skill.in_(skills))
        .order_by(run.id, sitting.id)
    )
    found: dict[tuple[int, str], list[RunLine]] = {}
    for row in session.execute(query):
        runs, one = found.setdefault((row.person_id, row.skill), []), _run_line(row)
        if runs and runs[-1].run == one.run:
            runs[-1] = replace(one, watchers=tuple(dict.fromkeys((*runs[-1].watchers, *one.watchers))))
        else:
            runs.append(one)
    return found


def _run_line(row: Row[*tuple[Any, ...]]) -> RunLine:
    """A run, beside one of those who watched it."""
    return RunLine(
        run=row.public_id,
        line=Line(row.line),
        ready_at=row.ready_at,
        refreshes=row.refreshes,
        points=row.points,
        counted=row.counted,
        started_at=row.started_at,
        ended_at=row.ended_at,
        outcome=row.outcome or "",
        watched=row.watched_by_id is not None,
        watchers=(row.watcher,) if row.watcher else (),
    )


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
