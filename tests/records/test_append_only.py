"""Answers, gradings and audit lines are only ever added."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from sqlalchemy import delete, select, update

from trainer.records.append_only import APPEND_ONLY, AppendOnlyError, remove_lines
from trainer.records.models import AuditLine

NOW = datetime(2026, 11, 25, 7, 30, tzinfo=UTC)


@pytest.fixture
def line(database):
    with database.write() as session:
        session.add(AuditLine(id=1, at=NOW, what="person.created"))
    return database


def attempt(database, act):
    with database.write() as session:
        act(session)


def change(session):
    session.get_one(AuditLine, 1).what = "nothing"


def remove(session):
    session.delete(session.get_one(AuditLine, 1))


@pytest.mark.parametrize("act", [change, remove])
def test_a_line_cannot_be_changed_or_removed(line, act):
    with pytest.raises(AppendOnlyError, match="add a new row"):
        attempt(line, act)

    with line.read() as session:
        assert session.scalars(select(AuditLine.what)).all() == ["person.created"]


@pytest.mark.parametrize("table", APPEND_ONLY)
@pytest.mark.parametrize("statement", [lambda table: update(table).values(id=2), delete])
def test_no_statement_changes_or_removes_rows(database, table, statement):
    with pytest.raises(AppendOnlyError, match=table.__name__):
        attempt(database, lambda session: session.execute(statement(table)))


def test_a_line_can_be_added_and_read(line):
    with line.write() as session:
        session.add(AuditLine(id=2, at=NOW, what="person.renamed"))
        session.get_one(AuditLine, 1)

    with line.read() as session:
        assert len(session.scalars(select(AuditLine)).all()) == 2


def test_lines_whose_time_is_over_are_the_one_exception(line):
    with line.write() as session:
        session.add(AuditLine(id=2, at=NOW, what="person.renamed"))
        assert remove_lines(session, AuditLine.id == 1) == 1

    with line.read() as session:
        assert session.scalars(select(AuditLine.id)).all() == [2]


def test_removing_lines_opens_the_door_to_nothing_else(line):
    def remove_and_go_on(session):
        remove_lines(session, AuditLine.id == 7)
        session.execute(delete(AuditLine))

    with pytest.raises(AppendOnlyError):
        attempt(line, remove_and_go_on)


@pytest.mark.parametrize("table", [table for table in APPEND_ONLY if table is not AuditLine])
def test_the_exception_holds_for_no_other_table(database, table):
    marked = delete(table).execution_options(trainer_retires_lines=True)

    with pytest.raises(AppendOnlyError, match=table.__name__):
        attempt(database, lambda session: session.execute(marked))


@pytest.mark.parametrize("option", ["trainer_retires_lines", "trainer_forgets_words"])
def test_no_exception_lets_a_line_be_changed(line, option):
    marked = update(AuditLine).values(what="nothing").execution_options(**{option: True})

    with pytest.raises(AppendOnlyError, match="AuditLine"):
        attempt(line, lambda session: session.execute(marked))
