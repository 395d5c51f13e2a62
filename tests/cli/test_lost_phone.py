"""`trainer lost-phone`."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from click.testing import CliRunner
from pyotp import TOTP

from trainer.accounts import second_factor
from trainer.accounts.people import person_named
from trainer.accounts.site import make_site
from trainer.cli import main

KEY = "a key that is long enough for this site"


@pytest.fixture
def run(monkeypatch, tmp_path, sqlite_url):
    monkeypatch.setenv("TRAINER_INSTANCE", str(tmp_path))
    monkeypatch.setenv("TRAINER_DATABASE", sqlite_url)
    return lambda *words: CliRunner().invoke(main, ["lost-phone", *words])


@pytest.fixture
def administrator(database):
    now = datetime.now(UTC)
    with database.write() as session:
        make_site(session, administrator="chief", edition="2023", now=now)
        person = person_named(session, "chief").id
        second_factor.begin(session, person, now, key=KEY)
        app = TOTP(second_factor.begun(session, person, now, key=KEY).secret)
        second_factor.confirm(session, person, app.at(now), now, key=KEY, paper=(), keep_token=None)
    return person


def test_it_lets_the_administrator_in_whom_nobody_else_can_help(run, database, administrator):
    ran = run("Chief")

    assert ran.exit_code == 0
    assert ran.output == "chief signs in with the password alone now, and is signed out everywhere.\n"
    with database.read() as session:
        assert not second_factor.is_in_force(session, administrator)


def test_a_second_time_changes_nothing_and_says_so(run, administrator):
    assert administrator
    run("chief")

    assert run("chief").output == "chief is asked for no code; nothing was changed.\n"


def test_a_name_that_nobody_has_is_told(run, administrator):
    assert administrator
    ran = run("nobody.here")

    assert ran.exit_code == 1
    assert "Nobody signs in as 'nobody.here'" in ran.output
