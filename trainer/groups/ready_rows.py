"""How people stand with the job types of shops and schools, worked out from their rows."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from datetime import datetime
from zoneinfo import ZoneInfo

from sqlalchemy.orm import Session

from trainer.library.shelf import Library
from trainer.progress.needs import JobNeed, Readiness
from trainer.progress.readiness import plan_of, readiness_of_jobs
from trainer.progress.readiness_rows import shown_besides, standings_of_people

__all__ = ["readiness_of_people"]


def readiness_of_people(
    session: Session,
    library: Library,
    people: Collection[int],
    places: Mapping[int, tuple[ZoneInfo, Collection[JobNeed]]],
    *,
    at: datetime,
) -> dict[int, dict[int, dict[str, Readiness]]]:
    """By organisation (with its zone and job types) and person: each job type. Eight queries in all."""
    skills = list(dict.fromkeys(need.skill for _, jobs in places.values() for job in jobs for need in job.skills))
    standings = standings_of_people(session, library, people, skills)
    besides = shown_besides(session, {place: zone for place, (zone, _) in places.items()}, people)
    plans = {place: plan_of(jobs) for place, (_, jobs) in places.items()}
    return {
        place: {person: readiness_of_jobs(plan, standings[person], besides[place, person], at) for person in people}
        for place, plan in plans.items()
    }
