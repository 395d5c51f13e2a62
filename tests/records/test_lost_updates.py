"""
Several processes read a number and write it back one higher; nothing may be lost.

With the driver's own start of transactions more than half of these updates are lost on SQLite, without any error.
"""

from __future__ import annotations

import subprocess
import sys
from datetime import UTC, datetime

import pytest
from sqlalchemy import func, select

from trainer.records.locks import add_if_missing, lock_person, locked
from trainer.records.models import Person, SkillState

NOW = datetime(2026, 11, 25, 7, 30, tzinfo=UTC)
PROCESSES, TIMES = 4, 40

#: On a machine that is busy otherwise, SQLite may keep one process waiting for longer than it has patience: that is
#: an error said aloud, and no loss. What a wrong start of transactions leads to (SQLITE_BUSY_SNAPSHOT) is not forgiven.
COUNT_UP = """
import sqlite3
import sys
from sqlalchemy.exc import OperationalError
from trainer.records.engine import Database
from trainer.records.locks import lock_person
from trainer.records.models import Person

database = Database(sys.argv[1])
sys.stdin.readline()
left = int(sys.argv[2])
while left:
    try:
        with database.write() as session:
            person = {read}
            person.answers_given = person.answers_given + 1
    except OperationalError as error:
        if getattr(error.orig, "sqlite_errorcode", None) != sqlite3.SQLITE_BUSY:
            raise
    else:
        left -= 1
"""
LOCKING = COUNT_UP.format(read="lock_person(session, 1)")
JUST_READING = COUNT_UP.format(read="session.get(Person, 1)")


def url_of(database):
    return database.url.render_as_string(hide_password=False)


def add_person(database):
    with database.write() as session:
        session.add(Person(id=1, sign_in_name="kim.lee", display_name="Kim Lee", created_at=NOW))


def count_up_together(database, program):
    """Start the processes, let them go at one moment, and wait for them."""
    command = [sys.executable, "-c", program, url_of(database), str(TIMES)]
    running = [
        subprocess.Popen(command, stdin=subprocess.PIPE, stderr=subprocess.PIPE, text=True) for _ in range(PROCESSES)
    ]
    for process in running:
        process.stdin.write("go\n")
        process.stdin.flush()
    outcomes = [(*process.communicate(), process.returncode) for process in running]
    assert [(error, code) for _, error, code in outcomes] == [("", 0)] * PROCESSES
    with database.read() as session:
        return session.scalars(select(Person.answers_given)).one()


def test_nothing_is_lost_when_the_person_is_locked(any_database):
    add_person(any_database)

    assert count_up_together(any_database, LOCKING) == PROCESSES * TIMES


def test_sqlite_loses_nothing_even_where_a_lock_was_forgotten(database):
    add_person(database)

    assert count_up_together(database, JUST_READING) == PROCESSES * TIMES


def test_a_locked_person_is_read_anew(postgres_database):
    add_person(postgres_database)
    with postgres_database.write() as session:
        session.get_one(Person, 1)
        with postgres_database.write() as other:
            other.get_one(Person, 1).answers_given = 7

        assert lock_person(session, 1).answers_given == 7


def test_locking_leaves_room_for_rows_that_point_to_the_person(postgres_database):
    add_person(postgres_database)
    with postgres_database.write() as session:
        lock_person(session, 1)
        with postgres_database.write() as other:
            other.add(SkillState(person_id=1, skill="bends.offset", level=0.3, variance=1.0, holding_days=2, counted=0))

    with postgres_database.read() as session:
        assert session.scalar(select(func.count()).select_from(SkillState)) == 1


def test_adding_what_is_there_already_changes_nothing(any_database):
    add_person(any_database)
    first = {"person_id": 1, "skill": "bends.offset", "level": 0.3, "variance": 1.0, "holding_days": 2, "counted": 0}
    with any_database.write() as session:
        assert add_if_missing(session, SkillState, **first)
        assert not add_if_missing(session, SkillState, **first | {"level": 9.0})

    with any_database.write() as session:
        assert session.scalars(locked(select(SkillState.level))).all() == [0.3]


ACKNOWLEDGE = """
import sys
from trainer.records.engine import Database
from trainer.records.locks import lock_person

database = Database(sys.argv[1])
while True:
    with database.write() as session:
        person = lock_person(session, 1)
        person.answers_given = number = person.answers_given + 1
    print(number, flush=True)
"""


@pytest.mark.parametrize("seen", [1, 25])
def test_what_was_acknowledged_outlives_a_kill(any_database, seen):
    add_person(any_database)
    process = subprocess.Popen(
        [sys.executable, "-c", ACKNOWLEDGE, url_of(any_database)], stdout=subprocess.PIPE, text=True
    )
    lines = [process.stdout.readline() for _ in range(seen)]
    process.kill()
    last = int((lines + process.communicate()[0].split())[-1])
    with any_database.read() as session:
        kept = session.scalars(select(Person.answers_given)).one()

    assert kept in {last, last + 1}
