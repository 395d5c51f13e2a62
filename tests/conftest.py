"""
Fixtures for all tests: databases, and a fence around the network.

`database` is a fresh, migrated SQLite file; `postgres_database` the same on PostgreSQL; `any_database` runs the test on
both. PostgreSQL is used where TRAINER_TEST_POSTGRES holds the address of a server (`python tests/postgres_server.py
start` prints one); without it those tests are skipped. TRAINER_TEST_REQUIRE=postgres,nginx,browser makes such a skip a failure.
"""

from __future__ import annotations

import ipaddress
import os
import secrets
import shutil
import socket
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from hypothesis import settings
from sqlalchemy import URL, create_engine, make_url, text

from trainer.records.engine import Database
from trainer.records.migrate import upgrade

settings.register_profile("trainer", deadline=None)
settings.load_profile("trainer")

REQUIRED = frozenset(filter(None, os.environ.get("TRAINER_TEST_REQUIRE", "").replace(" ", "").split(",")))


def pytest_collection_modifyitems(items):
    """A test that asks for PostgreSQL carries its marker."""
    for item in items:
        if {"postgres_server"} & set(getattr(item, "fixturenames", ())):
            item.add_marker("postgres")


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item, call):
    """Where a marker is required, a skipped test has failed."""
    report = yield
    missing = sorted(name for name in REQUIRED if item.get_closest_marker(name))
    if report.skipped and missing and call.excinfo is not None and not hasattr(report, "wasxfail"):
        report.outcome = "failed"
        report.longrepr = f"skipped, but TRAINER_TEST_REQUIRE asks for {', '.join(missing)}: {call.excinfo.value}"
    return report


@pytest.fixture(autouse=True)
def _no_network(monkeypatch):
    """A test that reaches beyond this machine fails."""
    for name in ("connect", "connect_ex"):
        monkeypatch.setattr(socket.socket, name, _fenced(getattr(socket.socket, name)))
    look_up = socket.getaddrinfo

    def fenced_look_up(host, *rest, **options):
        _refuse_unless_here(host)
        return look_up(host, *rest, **options)

    monkeypatch.setattr(socket, "getaddrinfo", fenced_look_up)


def _fenced(connect):
    def fenced(self, address):
        if self.family != socket.AF_UNIX:
            _refuse_unless_here(address[0])
        return connect(self, address)

    return fenced


def _refuse_unless_here(host):
    name = host.decode() if isinstance(host, bytes) else host
    if name in {None, "", "localhost"}:
        return
    try:
        here = ipaddress.ip_address(name).is_loopback
    except ValueError:
        here = False
    if not here:
        pytest.fail(f"a test wanted to reach {name!r} over the network")


@pytest.fixture(scope="session")
def sqlite_template(tmp_path_factory) -> Path:
    """A migrated, empty SQLite file. Copied for each test, which is cheaper than migrating."""
    file = tmp_path_factory.mktemp("template") / "site.db"
    upgrade(f"sqlite:///{file}")
    return file


@pytest.fixture
def sqlite_url(sqlite_template, tmp_path) -> str:
    """The address of a fresh, migrated SQLite database."""
    file = tmp_path / "site.db"
    shutil.copyfile(sqlite_template, file)
    return f"sqlite:///{file}"


@pytest.fixture
def database(sqlite_url) -> Iterator[Database]:
    """A fresh, migrated SQLite database."""
    opened = Database(sqlite_url)
    yield opened
    opened.close()


@pytest.fixture(scope="session")
def postgres_server() -> URL:
    """A PostgreSQL server on which databases may be made."""
    url = os.environ.get("TRAINER_TEST_POSTGRES")
    if not url:
        pytest.skip("needs TRAINER_TEST_POSTGRES, see tests/postgres_server.py")
    return make_url(url)


@pytest.fixture(scope="session")
def postgres_template(postgres_server) -> Iterator[str]:
    """The name of a migrated, empty PostgreSQL database."""
    name = _new_name()
    _on_server(postgres_server, f'CREATE DATABASE "{name}"')
    upgrade(postgres_server.set(database=name))
    yield name
    _on_server(postgres_server, f'DROP DATABASE "{name}" WITH (FORCE)')


@pytest.fixture
def postgres_url(postgres_server, postgres_template) -> Iterator[str]:
    """The address of a fresh, migrated PostgreSQL database."""
    with passing_database(postgres_server, f'TEMPLATE "{postgres_template}" STRATEGY FILE_COPY') as url:
        yield url


@pytest.fixture
def empty_postgres_url(postgres_server) -> Iterator[str]:
    """The address of a PostgreSQL database without tables."""
    with passing_database(postgres_server, "") as url:
        yield url


@pytest.fixture(scope="module")
def lasting_postgres_url(postgres_server, postgres_template) -> Iterator[str]:
    """The address of a migrated PostgreSQL database that the tests of one module share."""
    with passing_database(postgres_server, f'TEMPLATE "{postgres_template}" STRATEGY FILE_COPY') as url:
        yield url


@pytest.fixture
def postgres_database(postgres_url) -> Iterator[Database]:
    """A fresh, migrated PostgreSQL database."""
    opened = Database(postgres_url)
    yield opened
    opened.close()


@pytest.fixture(params=["sqlite", pytest.param("postgresql", marks=pytest.mark.postgres)])
def any_database(request) -> Database:
    """A fresh, migrated database, once of each kind."""
    return request.getfixturevalue("database" if request.param == "sqlite" else "postgres_database")


@pytest.fixture(params=["sqlite", pytest.param("postgresql", marks=pytest.mark.postgres)])
def any_empty_url(request, tmp_path) -> str:
    """The address of a database without tables, once of each kind."""
    return (
        f"sqlite:///{tmp_path}/empty.db" if request.param == "sqlite" else request.getfixturevalue("empty_postgres_url")
    )


@contextmanager
def passing_database(server, how):
    """A database of its own on the server, dropped at the end."""
    name = _new_name()
    _on_server(server, f'CREATE DATABASE "{name}" {how}')
    try:
        yield server.set(database=name).render_as_string(hide_password=False)
    finally:
        _on_server(server, f'DROP DATABASE "{name}" WITH (FORCE)')


def _new_name():
    return f"trainer_test_{secrets.token_hex(6)}"


def _on_server(server, statement):
    engine = create_engine(server, isolation_level="AUTOCOMMIT")
    with engine.connect() as connection:
        connection.execute(text(statement))
    engine.dispose()
