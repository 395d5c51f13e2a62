"""The demo: invented people who lived through the real code."""

from contextlib import closing
from datetime import UTC, datetime

import pytest
from sqlalchemy import func, select

from trainer.accounts.actor import actor_of_person
from trainer.accounts.people import person_named
from trainer.accounts.sign_in import SignedIn, sign_in
from trainer.config import settings_from
from trainer.demo import build_demo_site
from trainer.progress.replay import replay
from trainer.records import models
from trainer.records.engine import Database

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    """A demo site of two weeks: its settings and those who can sign in."""
    folder = tmp_path_factory.mktemp("demo")
    settings = settings_from({"TRAINER_INSTANCE": str(folder)})
    return settings, build_demo_site(settings, weeks=2, now=NOW)


@pytest.fixture
def session(demo):
    settings, _ = demo
    with closing(Database(settings.database)) as database, database.read() as session:
        yield session


def test_each_printed_sign_in_works(demo):
    settings, people = demo

    assert [person.role for person in people] == ["apprentice", "instructor", "foreman", "owner"]
    with closing(Database(settings.database)) as database, database.write() as session:
        for person in people:
            tried = sign_in(session, person.sign_in_name, person.password, address="127.0.0.1", device="test", now=NOW)
            assert isinstance(tried, SignedIn)


def test_the_apprentice_learns_in_the_class_and_in_the_crew(session, demo):
    apprentice, *leaders = demo[1]
    actor = actor_of_person(session, person_named(session, apprentice.sign_in_name).id)

    assert len(actor.learns_in) == 2
    for leader in leaders:
        assert actor_of_person(session, person_named(session, leader.sign_in_name).id).memberships


def test_its_answers_came_about_as_real_ones_do(session):
    verdicts = dict(
        session.execute(select(models.Grading.verdict, func.count()).group_by(models.Grading.verdict)).all()
    )

    assert sum(verdicts.values()) > 200
    assert verdicts["right"] > verdicts["known-mistake"] > 10
    assert {"wrong", "gave-up"} <= set(verdicts)
    assert all(row.answered_at < NOW for row in session.scalars(select(models.Answer)))


def test_what_is_on_record_equals_a_replay(session):
    for person_id in session.scalars(select(models.Answer.person_id).distinct()).all():
        rows = session.scalars(select(models.SkillState).where(models.SkillState.person_id == person_id)).all()
        kept = {row.skill: (row.level, row.variance, row.holding_days, row.counted) for row in rows if row.counted}

        folded = replay(session, person_id).states

        assert {skill: folded_values(state) for skill, state in folded.items() if state.counted} == kept


def folded_values(state):
    return (state.level, state.variance, state.holding_days, state.counted)


def test_a_second_start_changes_nothing(demo, session):
    settings, people = demo
    before = session.scalar(select(func.count()).select_from(models.Answer))

    assert build_demo_site(settings, weeks=2, now=NOW) == people
    assert session.scalar(select(func.count()).select_from(models.Answer)) == before


def test_the_same_seed_gives_the_same_numbers(tmp_path):
    assert lived_through(tmp_path / "one") == lived_through(tmp_path / "two") != []


def lived_through(folder):
    """All answers of a new demo site of one week, with the seeds of their problems."""
    settings = settings_from({"TRAINER_INSTANCE": str(folder)})
    build_demo_site(settings, weeks=1, now=NOW)
    with closing(Database(settings.database)) as database, database.read() as session:
        return session.execute(
            select(models.Problem.seed, models.Answer.typed, models.Answer.answered_at)
            .join(models.Answer, models.Answer.problem_id == models.Problem.id)
            .order_by(models.Answer.id)
        ).all()
