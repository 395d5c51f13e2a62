"""A server and its tables: none is changed under the other, and two that migrate at once do it once."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from gc import collect

import pytest
from sqlalchemy import text

from trainer.records.engine import open_engine
from trainer.records.fence import changed_by_nobody_else, keep_to_own_tables
from trainer.records.migrate import current, downgrade, head, revisions, upgrade
from trainer.records.revision import DatabaseVersionError


@contextmanager
def server(url):
    """A server's engine, with one connection made."""
    engine = open_engine(url)
    keep_to_own_tables(engine)
    try:
        with engine.connect() as connection:
            connection.execute(text("SELECT 1"))
        yield engine
    finally:
        engine.dispose()


@contextmanager
def refused(state):
    with pytest.raises(DatabaseVersionError) as caught:
        yield
    assert caught.value.state == state


@pytest.fixture
def old_program(monkeypatch):
    """A server whose program knows one revision less."""

    @contextmanager
    def run(url):
        with monkeypatch.context() as patched:
            patched.setattr("trainer.records.revision.line_of_revisions", lambda: tuple(revisions()[:-1]))
            engine = server(url)
            with engine as opened:
                yield opened

    return run


def test_tables_are_not_changed_under_a_server_of_the_old_program(any_database, old_program):
    url = any_database.url
    downgrade(url, revisions()[-2])

    with old_program(url):
        with refused("served"):
            upgrade(url)
        assert current(url) == revisions()[-2]

    upgrade(url)
    assert current(url) == head()


def test_a_server_of_the_old_program_does_not_touch_newer_tables(any_database, old_program):
    with refused("newer"), old_program(any_database.url):
        pass


def test_an_engine_that_is_forgotten_holds_off_nobody(tmp_path):
    url = f"sqlite:///{tmp_path}/site.db"
    upgrade(url)
    engine = open_engine(url)
    keep_to_own_tables(engine)
    with engine.connect() as connection:
        connection.execute(text("SELECT 1"))
        connection.detach()
    with refused("served"):
        change(url)

    del connection, engine
    collect()
    change(url)


def change(url):
    """What a migration holds while it changes the tables."""
    with closing_engine(url) as engine, engine.connect() as connection, changed_by_nobody_else(connection):
        pass


@contextmanager
def closing_engine(url):
    engine = open_engine(url)
    yield engine
    engine.dispose()


def test_a_server_does_not_touch_older_tables_and_none_at_all(any_database):
    downgrade(any_database.url, revisions()[-2])
    with refused("older"), server(any_database.url):
        pass

    downgrade(any_database.url, "base")
    with refused("empty"), server(any_database.url):
        pass


def test_a_server_that_starts_while_tables_are_changed_is_held_off_and_comes_in_afterwards(any_database):
    engine = open_engine(any_database.url)
    with engine.begin() as connection, changed_by_nobody_else(connection), refused("changing"):
        server(any_database.url).__enter__()
    engine.dispose()

    with server(any_database.url):
        pass


def test_a_connection_that_was_lost_is_looked_at_anew(any_database, old_program):
    """As when the database was started again, and migrated before the server came back to it."""
    downgrade(any_database.url, revisions()[-2])
    with old_program(any_database.url) as engine:
        engine.dispose()
        upgrade(any_database.url)

        with refused("newer"), engine.connect():
            pass


def test_tables_that_are_up_to_date_may_be_looked_at_under_a_server(any_database):
    with server(any_database.url):
        upgrade(any_database.url)


def test_of_two_that_migrate_at_once_one_does(any_empty_url, monkeypatch):
    done = []
    alone = changed_by_nobody_else

    def counted(connection):
        done.append(1)
        return alone(connection)

    monkeypatch.setattr("trainer.records.migrate.changed_by_nobody_else", counted)
    with ThreadPoolExecutor(3) as pool:
        for each in [pool.submit(upgrade, any_empty_url) for _ in range(3)]:
            each.result()

    assert current(any_empty_url) == head()
    assert done == [1]
