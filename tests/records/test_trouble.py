"""What keeps a database from its work, provoked for real, is told from what the program did wrong."""

from __future__ import annotations

import errno

import pytest
from sqlalchemy import event, text
from sqlalchemy.exc import DBAPIError

from trainer.records.engine import Database
from trainer.records.trouble import Trouble, trouble_of


def refused(call):
    """The error that a call ends with."""
    with pytest.raises(DBAPIError) as caught:
        call()
    return caught.value


def written(database, statement="CREATE TABLE more AS SELECT '" + 100_000 * "x" + "' AS filler"):
    def write():
        with database.write() as session:
            session.execute(text(statement))

    return write


def at_each_write(database, statement):
    """Steers each connection of a SQLite database behind the start of its transaction."""
    event.listen(database.engine, "begin", lambda connection: connection.exec_driver_sql(statement))


def test_a_full_disk(database):
    with database.read() as session:
        pages = session.execute(text("PRAGMA page_count")).scalar()
    at_each_write(database, f"PRAGMA max_page_count = {pages}")

    assert trouble_of(refused(written(database))) is Trouble.FULL


def test_a_file_that_may_not_be_written(database):
    at_each_write(database, "PRAGMA query_only = 1")

    assert trouble_of(refused(written(database))) is Trouble.READ_ONLY


def test_a_lock_that_somebody_else_holds(database, sqlite_url):
    other = Database(sqlite_url)
    event.listen(other.engine, "connect", lambda connection, _: connection.execute("PRAGMA busy_timeout = 1"))
    with database.write() as session:
        session.execute(text("SELECT 1"))
        error = refused(written(other))
    other.close()

    assert trouble_of(error) is Trouble.BUSY


def test_a_folder_that_is_gone(tmp_path):
    nowhere = Database(f"sqlite:///{tmp_path}/gone/site.db")

    assert trouble_of(refused(written(nowhere))) is Trouble.AWAY


def test_a_file_that_is_no_database(tmp_path):
    (tmp_path / "site.db").write_bytes(b"a letter about something else, of some length" * 100)
    damaged = Database(f"sqlite:///{tmp_path / 'site.db'}")

    assert trouble_of(refused(written(damaged))) is Trouble.DAMAGED
    damaged.close()


@pytest.mark.parametrize(
    ("number", "trouble"),
    [
        (errno.ENOSPC, Trouble.FULL),
        (errno.EDQUOT, Trouble.FULL),
        (errno.EROFS, Trouble.READ_ONLY),
        (errno.ENOENT, None),
        (None, None),
    ],
)
def test_errors_of_files(number, trouble):
    assert trouble_of(OSError(number, "so it is")) is trouble


@pytest.mark.parametrize("statement", ["SELECT wrong FROM nowhere", "INSERT INTO site (id) VALUES (1)"])
def test_what_the_program_did_wrong_is_none(any_database, statement):
    assert trouble_of(refused(written(any_database, statement))) is None


def test_a_server_that_only_lets_itself_be_read(postgres_database):
    event.listen(postgres_database.engine, "begin", lambda one: one.exec_driver_sql("SET TRANSACTION READ ONLY"))

    assert trouble_of(refused(written(postgres_database))) is Trouble.READ_ONLY


def test_a_row_that_somebody_else_holds(postgres_database):
    with postgres_database.write() as session:
        session.execute(text("LOCK TABLE person"))
        error = refused(written(postgres_database, "SET LOCAL lock_timeout = 1; LOCK TABLE person"))

    assert trouble_of(error) is Trouble.BUSY


def test_a_server_that_goes_away_in_the_midst(postgres_database):
    error = refused(written(postgres_database, "SELECT pg_terminate_backend(pg_backend_pid())"))

    assert trouble_of(error) is Trouble.AWAY


def test_a_server_that_is_not_there(postgres_server, tmp_path):
    nowhere = Database(postgres_server.set(query={"host": str(tmp_path)}))

    assert trouble_of(refused(written(nowhere))) is Trouble.AWAY
