"""`trainer tidy`: says what goes, removes it, and leaves a site that is sound and can be backed up."""

from __future__ import annotations

import re
from contextlib import closing
from datetime import UTC, datetime, timedelta

import pytest
from sqlalchemy import func, select

from trainer.cli.check import findings
from trainer.records.engine import Database
from trainer.records.models import Answer, AuditLine, Person, Throttle

OLD = timedelta(days=1200)


@pytest.fixture
def aged(any_site):
    """A lived-in site with notes of a look that are old, an old note of an hour confirmed, and an empty count."""
    now = datetime.now(UTC)
    with closing(Database(any_site.database)) as database, database.write() as session:
        kim = session.scalars(select(Person.id)).first()
        session.add_all(AuditLine(at=now - OLD, what="looked.practice", subject_id=kim) for _ in range(3))
        session.add(AuditLine(at=now - 3 * OLD, what="hours.confirmed", subject_id=kim))
        session.add(Throttle(kind="pair", subject="x", level=0, updated_at=now - OLD, expires_at=now - OLD))
    return any_site


def told(done):
    """The number in front of each table's line that is not 0."""
    assert done.exit_code == 0, done.output
    lines = re.findall(r"^ +([\d,]+)  (\w+) +(.+)$", done.output, re.MULTILINE)
    return {(table, words): int(rows) for rows, table, words in lines if rows != "0"}


GOES = {
    ("audit_line", "notes who looked at whose record, older than 1,095 days"): 3,
    ("throttle", "counts of wrong guesses that are empty by now"): 1,
}


def test_it_says_what_goes_removes_it_and_the_site_is_sound(aged, run, tmp_path):
    environment = {"TRAINER_DATABASE": aged.database}

    looked = run("tidy", "--look", **environment)
    assert told(looked) == GOES
    assert "Would remove 4 rows." in looked.output

    done = run("tidy", **environment)
    assert told(done) == GOES
    assert "Removed 4 rows." in done.output
    assert told(run("tidy", **environment)) == {}

    assert list(findings(aged, whole=True)) == []
    assert run("backup", tmp_path / "after.zip", **environment).exit_code == 0
    with closing(Database(aged.database)) as database, database.read() as session:
        assert session.scalar(select(func.count(Answer.id))) == 8
        assert session.scalars(select(AuditLine.what).where(AuditLine.what.like("hours.%"))).all() == [
            "hours.confirmed"
        ]


def test_notes_that_are_kept_always_are_named(site, run):
    done = run("tidy", "--look", TRAINER_DATABASE=site.database, TRAINER_KEEP_LOOKS="always", TRAINER_KEEP_ENDED="25h")

    assert "Kept without end: notes who looked at whose record." in done.output
    assert "ended more than 25 hours ago" in done.output


def test_where_there_is_no_site_it_says_so_in_one_line(run, tmp_path):
    done = run("tidy", TRAINER_INSTANCE=str(tmp_path), TRAINER_DATABASE=f"sqlite:///{tmp_path}/none.db")

    assert done.exit_code == 1
    assert len(done.output.strip().splitlines()) == 1
    assert "trainer init" in done.output
