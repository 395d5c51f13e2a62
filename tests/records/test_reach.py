"""A pooled connection to PostgreSQL is looked at before it is used, and the server is asked only where that does not tell."""

from __future__ import annotations

import pytest
from sqlalchemy import NullPool, create_engine, text

from trainer.records import reach

OTHERS = "SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE datname = current_database() AND pid <> pg_backend_pid()"
WHO = text("SELECT pg_backend_pid()")


def backend(database):
    with database.read() as session:
        return session.scalar(WHO)


@pytest.fixture
def pings(postgres_database, monkeypatch):
    """Each time that the server is asked."""
    found, dialect = [], postgres_database.engine.dialect
    ping = dialect.do_ping
    monkeypatch.setattr(dialect, "do_ping", lambda connection: found.append(connection) or ping(connection))
    return found


def test_a_connection_that_the_server_ended_is_opened_anew(postgres_database, pings):
    first = backend(postgres_database)
    outside = create_engine(postgres_database.url, poolclass=NullPool)
    with outside.connect() as connection:
        ended = connection.scalars(text(OTHERS)).all()

    assert ended == [True]
    assert backend(postgres_database) != first
    assert len(pings) == 1


def test_the_server_is_not_asked_between_two_requests(postgres_database, pings):
    first = backend(postgres_database)

    assert [backend(postgres_database) for _ in range(3)] == [first] * 3
    assert pings == []


def test_the_server_is_asked_after_a_pause(postgres_database, pings, monkeypatch):
    first = backend(postgres_database)
    monkeypatch.setattr(reach, "ASKED_AFTER", 0.0)

    assert backend(postgres_database) == first
    assert len(pings) == 1
