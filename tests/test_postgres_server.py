"""The throw-away server that the other tests use."""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path

import pytest
from sqlalchemy import create_engine, text

PROGRAM = Path(__file__).with_name("postgres_server.py")


def run(*words):
    return subprocess.run([sys.executable, str(PROGRAM), *words], capture_output=True, text=True, check=False)


@pytest.mark.postgres
@pytest.mark.usefixtures("postgres_server")
def test_a_server_starts_once_answers_and_leaves_nothing_behind():
    folder = tempfile.mkdtemp(prefix="trainer-postgres-")
    try:
        started = [run("start", folder).stdout.strip() for _ in range(2)]
        engine = create_engine(started[0])
        with engine.connect() as connection:
            answer = connection.scalar(text("SELECT 1"))
        engine.dispose()
    finally:
        stopped = run("stop", folder)

    assert started[0] == started[1]
    assert answer == 1
    assert stopped.returncode == 0
    assert not Path(folder).exists()


@pytest.mark.parametrize("words", [(), ("restart",)])
def test_it_says_how_it_is_called(words):
    called = run(*words)

    assert called.returncode == 2
    assert "postgres_server.py start" in called.stderr
