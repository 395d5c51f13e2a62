"""The fence around the network, and the promise that required tests are not skipped."""

from __future__ import annotations

import os
import socket
import subprocess
import sys
from pathlib import Path

import pytest

from trainer.records.migrate import check_version

NOWHERE = ("192.0.2.1", 80)


@pytest.mark.parametrize("way", ["connect", "connect_ex"])
def test_a_test_cannot_reach_beyond_this_machine(way):
    with socket.socket() as opened, pytest.raises(pytest.fail.Exception, match="over the network"):
        getattr(opened, way)(NOWHERE)


def test_a_test_cannot_look_up_names():
    with pytest.raises(pytest.fail.Exception, match="over the network"):
        socket.create_connection(("nowhere.invalid", 80))


def test_a_test_can_reach_this_machine():
    with socket.create_server(("127.0.0.1", 0)) as server, socket.create_connection(server.getsockname()) as client:
        assert client.getpeername() == server.getsockname()


def test_the_database_of_a_test_is_migrated(any_database):
    check_version(any_database.url)


def run_without_a_server(tmp_path, required):
    """Run a test that needs PostgreSQL, in a folder of its own, where no server is named."""
    (tmp_path / "conftest.py").write_text((Path(__file__).with_name("conftest.py")).read_text("utf-8"), "utf-8")
    (tmp_path / "test_it.py").write_text("def test_it(postgres_database):\n    assert postgres_database\n", "utf-8")
    (tmp_path / "pytest.ini").write_text("[pytest]\nmarkers =\n    postgres: needs it\n", "utf-8")
    environment = {**os.environ, "TRAINER_TEST_REQUIRE": required, "PYTEST_ADDOPTS": ""}
    environment.pop("TRAINER_TEST_POSTGRES", None)
    command = [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "-rs", str(tmp_path)]
    return subprocess.run(command, cwd=tmp_path, env=environment, capture_output=True, text=True, check=False)


def test_a_test_without_its_server_is_skipped(tmp_path):
    ran = run_without_a_server(tmp_path, "")

    assert ran.returncode == 0
    assert "1 skipped" in ran.stdout


def test_a_skip_fails_where_the_server_is_required(tmp_path):
    ran = run_without_a_server(tmp_path, "postgres,browser")

    assert ran.returncode == 1
    assert "TRAINER_TEST_REQUIRE asks for postgres" in ran.stdout
