"""Figures for Prometheus: read by nobody without the token, and by route, never by person."""

from __future__ import annotations

import re
import shutil
from datetime import UTC, datetime

import pytest
from flask import abort
from prometheus_client.parser import text_string_to_metric_families
from sqlalchemy import delete, select, text

from trainer.accounts.passwords import CHEAP_PASSWORDS
from trainer.config import Settings
from trainer.problems.errors import ContentError
from trainer.records.models import Answer, Grading
from trainer.records.watched import watch
from trainer.web.app import build

TOKEN = "what only the one who watches holds"


@pytest.fixture(scope="module")
def counting_app(tmp_path_factory, sqlite_template):
    """A site that keeps figures, on tables with nobody in them."""
    folder = tmp_path_factory.mktemp("counting")
    shutil.copyfile(sqlite_template, folder / "site.db")
    settings = Settings(
        instance=folder,
        database=f"sqlite:///{folder}/site.db",
        secure_cookies=False,
        log_level="error",
        metrics_token=TOKEN,
    )
    return build(settings, passwords=CHEAP_PASSWORDS)


@pytest.fixture
def counting(counting_app):
    return counting_app.test_client()


@pytest.fixture
def figures(counting):
    """By how much each figure has grown since the test began."""

    def read():
        shown = counting.get("/metrics", headers={"Authorization": f"Bearer {TOKEN}"})
        assert shown.status_code == 200
        assert shown.content_type.startswith("text/plain; version=0.0.4")
        families = text_string_to_metric_families(shown.text)
        return {(one.name, *one.labels.values()): one.value for family in families for one in family.samples}

    before = read()
    return lambda *key: read().get(key, 0) - before.get(key, 0)


@pytest.mark.parametrize("given", [None, "Bearer", "Bearer wrong", f"Basic {TOKEN}", f"Bearer {TOKEN}x", "Bearer \xff"])
def test_without_the_token_there_is_no_such_page(counting, given):
    shown = counting.get("/metrics", headers={"Authorization": given} if given else {})

    assert shown.status_code == 404
    assert "trainer_requests" not in shown.text


def test_a_site_without_a_token_keeps_no_figures(client, app):
    assert client.get("/metrics", headers={"Authorization": "Bearer "}).status == 404
    assert "trainer.metrics" not in app.extensions


def test_requests_are_counted_by_route_and_status_and_timed(counting, figures):
    counting.get("/sign-in")
    counting.get("/join/HUSHHUSH")
    counting.get("/no/such/hushhush")
    counting.open("/sign-in", method="HUSHHUSH")

    assert figures("trainer_requests_total", "account.sign_in", "GET", "200") == 1
    assert figures("trainer_requests_total", "none", "GET", "404") == 1
    assert figures("trainer_requests_total", "none", "other", "405") == 1
    assert figures("trainer_request_seconds_count", "account.sign_in") == 1
    assert figures("trainer_database_seconds_count", "joining.preview") == 1
    assert figures("trainer_database_seconds_sum", "joining.preview") > 0
    shown = counting.get("/metrics", headers={"Authorization": f"Bearer {TOKEN}"}).text
    assert "hushhush" not in shown.lower()


def test_throttled_tries_are_counted(counting, figures):
    page = counting.get("/sign-in")
    token = re.search(r'name="csrf_token" value="([^"]+)"', page.text)[1]
    typed = {"csrf_token": token, "sign_in_name": "nobody", "password": "something else"}
    for _ in range(7):
        counting.post("/sign-in", data=typed)

    assert figures("trainer_throttled_total", "account.sign_in") == 1


@pytest.mark.parametrize(
    ("error", "of_content"),
    [
        (ValueError("typed by somebody"), 0),
        (ContentError("bends/x.toml", 3, "ask", "typed by somebody", "a length"), 1),
    ],
)
def test_errors_are_counted_by_type_and_those_of_content_apart(
    counting_app, counting, figures, monkeypatch, error, of_content
):
    def view():
        raise error

    view.visitors = counting_app.view_functions["home.first"].visitors
    monkeypatch.setitem(counting_app.view_functions, "home.first", view)

    assert counting.get("/").status_code == 500

    assert figures("trainer_errors_total", f"{type(error).__module__}.{type(error).__qualname__}") == 1
    assert figures("trainer_content_errors_total") == of_content


def test_a_page_that_is_refused_is_no_error(counting_app, counting, figures, monkeypatch):
    def view():
        abort(404)

    view.visitors = counting_app.view_functions["home.first"].visitors
    monkeypatch.setitem(counting_app.view_functions, "home.first", view)
    counting.get("/")

    assert figures("trainer_errors_total", "werkzeug.exceptions.NotFound") == 0


@pytest.fixture
def told(app):
    """What the records tell while somebody watches them: durations and verdicts."""
    took, graded = [], []
    watch(app.extensions["trainer.database"], took=took.append, graded=graded.append)
    return took, graded


def test_an_answer_is_told_by_its_verdict_when_it_is_on_record(app, client_of, given, told):
    _, graded = told
    problem = given.problem()
    assert graded == []

    page = client_of("learner").submit(f"/problems/{problem}", {"answer": "100 ft"})

    assert page.status == 303
    assert graded == ["wrong"]
    with pytest.raises(RuntimeError):
        lose_a_grading(app.extensions["trainer.database"])
    with app.extensions["trainer.database"].write() as session:
        session.add(a_grading(session, sequence=2))
    assert graded == ["wrong"]


def lose_a_grading(database):
    with database.write() as session:
        session.add(a_grading(session, sequence=1))
        session.flush()
        raise RuntimeError("before the commit")


def a_grading(session, sequence):
    """A grading of the one answer; a first one takes the place of the one that is there."""
    if sequence == 1:
        session.execute(delete(Grading.__table__))
    answer = session.scalars(select(Answer.id)).one()
    at = datetime(2026, 11, 25, 16, 0, tzinfo=UTC)
    return Grading(answer_id=answer, sequence=sequence, verdict="right", mistakes=[], basis="", graded_at=at)


def test_statements_and_commits_are_timed(app, told):
    took, _ = told
    database = app.extensions["trainer.database"]
    with database.write() as session:
        session.execute(text("SELECT 1"))
    with_commit = len(took)
    with database.read() as session:
        session.execute(text("SELECT 1"))

    assert len(took) - with_commit == with_commit - 1
    assert min(took) > 0
