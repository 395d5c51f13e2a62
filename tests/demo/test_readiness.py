"""What the demo shows an owner: proof runs, checks, findings, hours, and answers to his four questions."""

from contextlib import closing
from datetime import UTC, datetime, timedelta

import pytest
from sqlalchemy import func, select

from trainer.accounts.actor import actor_of_person
from trainer.accounts.people import person_named
from trainer.config import settings_from
from trainer.demo import build_demo_site
from trainer.groups.ready_board import ready_board
from trainer.groups.ready_questions import going_stale, soonest
from trainer.library.shelf import Library
from trainer.problems.shelf import content_root
from trainer.progress.needs import CheckNeed, Ready
from trainer.progress.plan import plan
from trainer.records import models
from trainer.records.engine import Database

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)


@pytest.fixture(scope="module")
def settings(tmp_path_factory):
    """A whole demo site."""
    settings = settings_from({"TRAINER_INSTANCE": str(tmp_path_factory.mktemp("demo"))})
    build_demo_site(settings, now=NOW)
    return settings


@pytest.fixture(scope="module")
def session(settings):
    with closing(Database(settings.database)) as database, database.read() as session:
        yield session


@pytest.fixture(scope="module")
def boards(settings):
    """The boards of the shop's crews by name, as its owner reads them."""
    library = Library(content_root(settings.content))
    with closing(Database(settings.database)) as database, database.write() as session:
        owner = actor_of_person(session, person_named(session, "owner").id)
        found = [
            ready_board(session, library, owner, group, now=NOW)
            for group in session.scalars(
                select(models.Group.public_id).where(models.Group.organisation_id == owner.owns[0].organisation_id)
            )
        ]
        session.rollback()
    return {board.group.name: board for board in found}


def states(board, name):
    job = next(job for job in board.jobs if job.name == name)
    return {state: len(board.who(job, state)) for state in Ready}


def test_some_can_go_some_were_ready_and_some_can_not_yet(boards):
    garage = boards["Garage crew"]

    assert all(states(garage, "First-week helper").values())
    assert states(garage, "Exposed EMT in a garage")[Ready.READY] == 1
    assert boards["Service van"].closed


def test_something_goes_stale_within_a_month_and_not_today(boards):
    ahead = [one for one in going_stale(boards["Garage crew"]) if one.until]

    assert ahead
    assert all(NOW < one.until <= NOW + timedelta(days=30) for one in ahead)


def test_one_check_would_make_somebody_ready(boards):
    first, *_ = soonest(boards["Service van"])

    assert isinstance(first.need, CheckNeed)
    assert len(first.completes) == 1


def test_the_new_hire_gets_two_weeks_with_dates(boards):
    job = next(job for job in boards["Service van"].jobs if job.name == "First-week helper")
    newest = max(boards["Service van"].people, key=lambda one: len(one.jobs[job.job].missing))

    planned = plan(newest.jobs[job.job], {}, NOW.date())

    assert len(planned.days) >= 5
    assert planned.days[0].day >= NOW.date()


def test_runs_went_over_several_days_and_ended_in_every_way(session):
    runs = session.scalars(select(models.ProofRun)).all()
    ended = [run for run in runs if run.ended_at]

    assert {run.outcome for run in runs} == {"ready", "not-yet", None}
    assert all(run.ended_at - run.started_at > timedelta(hours=20) for run in ended if run.outcome == "ready")
    assert {run.watched_by_id is None for run in runs} == {True, False}
    assert all(run.started_at < NOW for run in runs)


def test_checks_are_signed_passed_and_not_and_some_are_open(session):
    checks = session.scalar(select(func.count()).select_from(models.HandsOnCheck))
    passed = session.scalars(select(models.CheckSigning.passed)).all()

    assert len(passed) < checks
    assert set(passed) == {True, False}
    assert session.scalar(select(func.count()).select_from(models.Registration)) == 3


def test_each_other_page_of_a_leader_has_something_to_show(session):
    findings = set(session.scalars(select(models.FieldFinding.kind)))
    decisions = set(session.scalars(select(models.JobHours.decision)))
    looks = set(session.scalars(select(models.AuditLine.what).where(models.AuditLine.what.startswith("looked."))))

    assert findings == {"failed-inspection", "scrapped", "dog-leg", "good-work"}
    assert decisions == {"confirmed", "sent-back", None}
    assert {"looked.readiness", "looked.hours", "looked.check"} <= looks
    assert session.scalar(select(func.count()).select_from(models.ClassDay)) == 4
    assert session.scalar(select(models.PlacementRun.picture))
