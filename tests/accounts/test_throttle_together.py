"""Two worker processes, either database: one count."""

from __future__ import annotations

import subprocess
import sys
from datetime import timedelta

import pytest
from sqlalchemy import select

from trainer.records.models import Throttle

GUESS = """
import sys
from datetime import datetime, UTC
from sqlalchemy.exc import OperationalError
from trainer.accounts.passwords import CHEAP_PASSWORDS
from trainer.accounts.sign_in import sign_in
from trainer.records.engine import Database

database = Database(sys.argv[1])
now = datetime(2026, 11, 25, 7, 30, tzinfo=UTC)
sys.stdin.readline()
looked_at, left = 0, 10
while left:
    try:
        with database.write() as session:
            tried = sign_in(
                session, "kim.lee", "guess", address="192.0.2.1", device="", now=now, passwords=CHEAP_PASSWORDS
            )
    except OperationalError:  # On a busy machine the lock may not come in time; nothing was counted then.
        continue
    looked_at += not tried.wait
    left -= 1
print(looked_at)
"""


@pytest.fixture
def kim(any_database, make_person):
    with any_database.write() as session:
        make_person(session)
    return any_database


def test_processes_that_guess_at_the_same_moment_share_one_count(kim):
    command = [sys.executable, "-c", GUESS, kim.url.render_as_string(hide_password=False)]
    running = [subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) for _ in range(4)]
    for process in running:
        process.stdin.write("go\n")
        process.stdin.flush()

    assert sum(int(process.communicate()[0]) for process in running) == 6


def test_a_wait_and_its_end_are_the_same_on_both_databases(kim, try_to_sign_in, now):
    outcomes = []
    for minutes in (0, 0, 0, 0, 0, 0, 0, 5, 5, 60):
        with kim.write() as session:
            moment = now + timedelta(minutes=minutes)
            outcomes.append(
                try_to_sign_in(session, "kim.lee", "wrong password", now=moment).wait / timedelta(minutes=1)
            )
    with kim.write() as session:
        try_to_sign_in(session, now=now + timedelta(hours=2))
    with kim.read() as session:
        kinds = session.scalars(select(Throttle.kind)).all()

    assert outcomes == [0, 0, 0, 0, 0, 0, 5, 0, 5, 0]
    assert kinds == ["known"]
