"""A full disk, a database that is read-only, busy or away: a plain page, and what was typed counts once in the end."""

from __future__ import annotations

import sqlite3

import pytest
from sqlalchemy import event, func, select, text

from trainer.progress.replayed import differences
from trainer.records.models import Answer
from trainer.records.trouble import Trouble
from trainer.web.troubles import WORDS


@pytest.fixture
def steer(app):
    """Sends a statement behind the start of each transaction, until `let_go()`."""
    engine, statements = app.extensions["trainer.database"].engine, []

    def send(connection):
        for statement in statements:
            connection.exec_driver_sql(statement)

    event.listen(engine, "begin", send)
    yield statements
    event.remove(engine, "begin", send)


@pytest.fixture
def full(app, steer):
    """Lets the file of the database grow no more, and then grow again."""

    def fill(*, full=True):
        with app.extensions["trainer.database"].read() as session:
            pages = session.execute(text("PRAGMA page_count")).scalar()
        steer[:] = [f"PRAGMA max_page_count = {pages if full else 2**30}"]

    return fill


def answers_of(given):
    with given.database.read() as session:
        return session.scalars(select(func.count(Answer.id))).one()


def told(page, trouble):
    assert page.status == 503
    assert page.heading == str(WORDS[trouble].title)
    assert str(WORDS[trouble].next) in page.words
    assert page.headers["Retry-After"] == str(WORDS[trouble].wait)
    return page


def answered(learner, problem, typed):
    return learner.submit(problem, {"answer": typed})


def test_an_answer_to_a_full_disk_is_given_back_and_counts_once_there_is_room(client_of, given, full):
    learner = client_of("learner")
    problem = f"/problems/{given.line(given.work())}"
    full()
    kept, page = 0, answered(learner, problem, "500 in")
    while page.status == 303:  # What fits in the pages that are begun is taken, as it should be.
        kept += 1
        page = answered(learner, problem, f"{500 + kept} in")
    told(page, Trouble.FULL)
    assert f"{500 + kept} in" in page.words
    assert learner.get("/today").status == learner.get(problem).status == 200
    form = page.form(problem)

    full(full=False)
    for _ in range(2):
        assert learner.post(problem, form | {"answer": f"{500 + kept} in"}).status == 303
    assert answers_of(given) == kept + 1
    with given.database.read() as session:
        assert differences(session, given.world.people["learner"]) == []


def test_a_database_that_may_not_be_written_is_still_read_and_takes_the_answer_afterwards(
    client_of, given, clock, steer
):
    learner = client_of("learner")
    problem = f"/problems/{given.line(given.work())}"
    steer.append("PRAGMA query_only = 1")
    # That the browser is in use would be noted now; it is left out, and the page is there.
    clock.forward(hours=2)
    page = told(answered(learner, problem, "7-1/2 in"), Trouble.READ_ONLY)
    assert answers_of(given) == 0

    steer.clear()
    assert learner.post(problem, page.form(problem)).status == 303
    assert answers_of(given) == 1


def test_a_lock_that_is_held_too_long_says_so(client_of, given, app):
    learner = client_of("learner")
    problem = f"/problems/{given.line(given.work())}"
    page = learner.get(problem)
    engine = app.extensions["trainer.database"].engine
    holder = sqlite3.connect(engine.url.database, isolation_level=None)
    holder.execute("BEGIN IMMEDIATE")
    event.listen(engine, "checkout", in_no_time)
    try:
        told(learner.post(problem, page.form(problem) | {"answer": "8 in"}), Trouble.BUSY)
    finally:
        event.remove(engine, "checkout", in_no_time)
        holder.close()


def in_no_time(connection, *_):
    connection.execute("PRAGMA busy_timeout = 1")


def test_records_that_cannot_be_reached_leave_a_plain_page_for_everybody(client, client_of, app, tmp_path):
    learner = client_of("learner")
    app.extensions["trainer.database"].close()
    file, aside = tmp_path / "site.db", tmp_path / "aside"
    file.rename(aside)
    file.mkdir()
    told(learner.get("/today"), Trouble.AWAY)
    told(learner.get("/nowhere"), Trouble.AWAY)
    assert client.get("/nowhere").status == 404

    file.rmdir()
    aside.rename(file)
    assert learner.get("/today").status == 200


def test_a_password_that_was_typed_is_on_no_page(client, steer):
    page = client.get("/sign-in")
    steer.append("PRAGMA query_only = 1")
    typed = {"sign_in_name": "learner", "password": "three words apart"}
    page = told(client.post("/sign-in", page.form("/sign-in") | typed), Trouble.READ_ONLY)

    assert "three words apart" not in page.text
    assert not [one for one in page.tree.iter("form") if one.get("method") == "post"]


def test_what_the_program_did_wrong_is_an_error_as_before(app, client_of, monkeypatch):
    def view():
        raise OSError(2, "nothing of the sort")

    view.visitors = app.view_functions["home.first"].visitors
    monkeypatch.setitem(app.view_functions, "home.first", view)
    monkeypatch.setitem(app.config, "PROPAGATE_EXCEPTIONS", False)
    page = client_of("learner").get("/")

    assert page.status == 500
    assert "Retry-After" not in page.headers
