"""Two app servers behind nginx that share one PostgreSQL: what one began another ends, and one may go at any moment."""

from __future__ import annotations

import hashlib
import os
import re
import signal
import threading
import time
from datetime import UTC, datetime

import pytest
from prometheus_client.parser import text_string_to_metric_families
from sqlalchemy import select, text

from trainer.accounts.passwords import CHEAP_PASSWORDS
from trainer.accounts.people import create_person
from trainer.accounts.site import make_site
from trainer.records.engine import Database
from trainer.records.models import Answer, Throttle

pytestmark = pytest.mark.nginx
PERSON = {"sign_in_name": "pat", "password": "three words apart"}


@pytest.fixture(scope="module")
def records(lasting_postgres_url):
    """The one database, with a site and a person in it."""
    database = Database(lasting_postgres_url)
    now = datetime.now(UTC)
    with database.write() as session:
        make_site(session, administrator="chief", edition="2023", now=now)
        create_person(session, **PERSON, display_name="Pat", now=now, passwords=CHEAP_PASSWORDS)
    yield database
    database.close()


@pytest.fixture(scope="module")
def running(cluster_on, records, tmp_path_factory):
    made = cluster_on(tmp_path_factory.mktemp("cluster"), records.url.render_as_string(hide_password=False))
    try:
        made.start_nginx()
        yield made
    finally:
        made.stop()


@pytest.fixture
def cluster(running):
    """Both app servers at work, and a browser without cookies."""
    for name in running.ports:
        running.start(name)
    running.cookies.clear()
    return running


def signed_in(cluster, to="nginx"):
    token = cluster.ask("/sign-in", to=to).field("csrf_token")
    answer = cluster.ask("/sign-in", {**PERSON, "csrf_token": token}, to=to)
    assert answer.status == 303, answer.text
    return cluster


def new_problem(cluster, to="nginx"):
    token = cluster.ask("/practice", to=to).field("csrf_token")
    sent = cluster.ask("/practice", {"csrf_token": token, "family": "offset-spacing"}, to=to)
    assert sent.status == 303
    return re.sub(r"^https?://[^/]+", "", sent.headers["Location"])


def fields(page, typed):
    return {"csrf_token": page.field("csrf_token"), "answer_key": page.field("answer_key"), "answer": typed}


def on_record(records):
    with records.read() as session:
        return session.scalars(select(Answer.typed).order_by(Answer.id)).all()


def test_what_was_begun_on_one_server_is_ended_on_the_other(cluster, records):
    signed_in(cluster, to="first")
    problem = new_problem(cluster, to="second")
    page = cluster.ask(problem, to="first")

    answered = cluster.ask(problem, fields(page, "101 ft"), to="second")

    assert answered.status == 303
    assert on_record(records)[-1] == "101 ft"
    # Sent once more, by way of the first: it counts once.
    assert cluster.ask(problem, fields(page, "101 ft"), to="first").status == 303
    assert on_record(records).count("101 ft") == 1


def test_the_proxy_brings_people_to_https_and_tells_the_program_so(cluster):
    moved = cluster.ask("/sign-in?next=/today", to="plain")
    assert (moved.status, moved.headers["Location"]) == (301, f"https://{cluster.name}/sign-in?next=/today")

    page = cluster.ask("/sign-in")

    assert page.status == 200
    assert page.headers["Strict-Transport-Security"]
    assert all("Secure" in line for line in page.headers.get_all("Set-Cookie"))
    # Asked past the proxy, and without its word for it, the program sees plain http.
    plain = cluster.ask("/sign-in", to="first", headers={"X-Forwarded-Proto": "http"})
    assert "https" in plain.text


def test_nobody_can_give_himself_another_address_through_the_proxy(cluster, records):
    spoofed = {"X-Forwarded-For": "203.0.113.9", "X-Real-Ip": "203.0.113.9", "Forwarded": "for=203.0.113.9"}
    token = cluster.ask("/sign-in").field("csrf_token")
    typed = {"sign_in_name": "pat", "password": "not the right one", "csrf_token": token}

    assert cluster.ask("/sign-in", typed, headers=spoofed).status == 422

    with records.read() as session:
        seen = set(session.scalars(select(Throttle.subject).where(Throttle.kind == "address")))
    assert hashlib.sha256(b"127.0.0.1").hexdigest() in seen
    assert hashlib.sha256(b"203.0.113.9").hexdigest() not in seen


def test_the_logs_of_proxy_and_program_tell_the_same_number_and_no_code(cluster):
    shown = cluster.ask("/join/HUSHHUSH?name=hushhush", headers={"X-Request-Id": "0123456789-of-my-own"})
    number = shown.headers["X-Request-Id"]

    until = time.monotonic() + 10
    while time.monotonic() < until:
        logs = {log.name: log.read_text() for log in cluster.folder.glob("*.log")}
        if number in logs["trainer.log"] and number in logs["first.log"] + logs["second.log"]:
            break
        time.sleep(0.05)
    (line,) = [one for one in logs["trainer.log"].splitlines() if number in one]
    assert " GET /join/... " in line
    assert re.fullmatch("[0-9a-f]{32}", number)
    assert number in logs["first.log"] + logs["second.log"]
    assert "hushhush" not in "".join(logs.values()).lower()
    assert "of-my-own" not in "".join(logs.values())


def test_what_is_for_those_who_run_the_site_is_not_to_be_had_through_the_proxy(cluster):
    token = {"Authorization": f"Bearer {cluster.token}"}

    assert cluster.ask("/metrics", headers=token).status == 404
    assert cluster.ask("/readyz").status == 404
    assert cluster.ask("/healthz").status == 200
    assert cluster.ask("/metrics", to="first").status == 404
    assert cluster.ask("/metrics", to="first", headers=token).status == 200


def figures(cluster, name):
    shown = cluster.ask("/metrics", to=name, headers={"Authorization": f"Bearer {cluster.token}"})
    assert shown.status == 200
    found = [one for family in text_string_to_metric_families(shown.text) for one in family.samples]
    return {(one.name, *one.labels.values()): one.value for one in found}


def test_figures_of_all_workers_are_one_and_outlive_a_worker(cluster):
    before = figures(cluster, "first").get(("trainer_requests_total", "account.sign_in", "GET", "200"), 0)
    for _ in range(12):
        cluster.ask("/sign-in", to="first")
    signed_in(cluster, to="first")
    problem = new_problem(cluster, to="first")
    cluster.ask(problem, fields(cluster.ask(problem, to="first"), "102 ft"), to="first")
    found = figures(cluster, "first")
    assert found["trainer_requests_total", "account.sign_in", "GET", "200"] == before + 13
    assert found["trainer_answers_total", "wrong"] >= 1
    assert found["trainer_database_seconds_sum", "account.sign_in"] > 0
    assert found["trainer_workers",] == 2

    os.kill(cluster.workers("first")[0], signal.SIGKILL)

    until = time.monotonic() + 30
    while time.monotonic() < until:
        after = figures(cluster, "first")
        if after["trainer_workers",] == 2 and len(cluster.workers("first")) == 2:
            break
        time.sleep(0.1)
    assert after["trainer_workers",] == 2
    assert after["trainer_requests_total", "account.sign_in", "GET", "200"] == before + 13
    assert after["trainer_answers_total", "wrong"] >= found["trainer_answers_total", "wrong"]


def test_one_server_may_go_while_requests_run(cluster, records):
    signed_in(cluster)
    problem = new_problem(cluster)
    statuses, gone = [], threading.Event()

    def keep_asking():
        while not gone.is_set() or len(statuses) < 40:
            statuses.append(cluster.ask(problem).status)

    asking = threading.Thread(target=keep_asking)
    asking.start()
    while len(statuses) < 20 and asking.is_alive():
        time.sleep(0.01)
    cluster.kill("first")
    gone.set()
    asking.join(60)

    assert set(statuses) == {200}
    assert len(statuses) >= 40
    page = cluster.ask(problem)
    assert cluster.ask(problem, fields(page, "103 ft")).status == 303
    assert on_record(records).count("103 ft") == 1


def test_a_server_that_is_stopped_ends_what_is_under_way(cluster, records):
    """The slow request is one that waits for a row that somebody else holds."""
    token = cluster.ask("/sign-in", to="second").field("csrf_token")
    typed = {"sign_in_name": "nobody", "password": "not the right one", "csrf_token": token}
    answers = []
    slow = threading.Thread(target=lambda: answers.append(cluster.ask("/sign-in", typed, to="second")))

    with records.engine.begin() as connection:
        connection.execute(text("LOCK TABLE throttle"))
        slow.start()
        waits = text("SELECT count(*) FROM pg_locks WHERE NOT granted AND relation = 'throttle'::regclass")
        until = time.monotonic() + 20
        while connection.execute(waits).scalar() == 0 and time.monotonic() < until:
            time.sleep(0.02)
        cluster.servers["second"].send_signal(signal.SIGTERM)
        # The worker with nothing to do goes at once.
        while len(cluster.workers("second")) > 1 and time.monotonic() < until:
            time.sleep(0.02)
        assert cluster.servers["second"].poll() is None
    slow.join(30)

    # 503 where all this took longer than anybody waits for a row; an answer it is in any case.
    assert [answer.status in {422, 503} for answer in answers] == [True]
    assert "</html>" in answers[0].text
    assert cluster.servers["second"].wait(30) == 0
    # nginx goes on with the other one.
    assert {cluster.ask("/sign-in").status for _ in range(4)} == {200}
