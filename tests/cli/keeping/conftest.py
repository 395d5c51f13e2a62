"""A small site that was lived in: two learners who answered, through the program's own code."""

from __future__ import annotations

import shutil
from contextlib import closing
from datetime import UTC, datetime
from uuid import uuid4

import pytest
from click.testing import CliRunner
from msgspec.structs import replace

from trainer.accounts.passwords import CHEAP_PASSWORDS
from trainer.accounts.people import create_person
from trainer.accounts.site import make_site
from trainer.accounts.site_key import agree_on_key
from trainer.cli import main
from trainer.config import secret_key, settings_from
from trainer.library.shelf import Library
from trainer.problems.shelf import content_root
from trainer.progress.practice import answer, give_up, issue
from trainer.records.carry.copying import copy_site
from trainer.records.engine import Database

NOW = datetime(2026, 11, 28, 20, 15, tzinfo=UTC)
FAMILY = "offset-far-mark"


@pytest.fixture(scope="session")
def library():
    return Library(content_root())


@pytest.fixture(scope="session")
def answer_once(library):
    """One more problem for a person, answered wrong and then given up: in transactions as the pages open them."""

    def once(database, person, now=NOW):
        with database.write() as session:
            problem = issue(session, library, person, family_id=FAMILY, now=now, edition="2023")
        with database.write() as session:
            answer(session, library, person, problem, "12 in", answer_key=str(uuid4()), now=now)
        with database.write() as session:
            give_up(session, library, person, problem, now)

    return once


@pytest.fixture(scope="session")
def lived_in(tmp_path_factory, sqlite_template, answer_once):
    """Its instance folder. To be copied."""
    folder = tmp_path_factory.mktemp("lived-in")
    shutil.copyfile(sqlite_template, folder / "trainer.sqlite")
    settings = settings_from({"TRAINER_INSTANCE": str(folder)})
    with closing(Database(settings.database)) as database:
        with database.write() as session:
            make_site(session, administrator="administrator", edition="2023", now=NOW)
            agree_on_key(session, secret_key(settings), NOW)
            people = [
                create_person(
                    session,
                    sign_in_name=name,
                    display_name=name,
                    password="a long walk home",
                    now=NOW,
                    passwords=CHEAP_PASSWORDS,
                ).id
                for name in ("pat.one", "sam.two")
            ]
        for person in people * 2:
            answer_once(database, person)
    return folder


@pytest.fixture
def site(lived_in, tmp_path, monkeypatch):
    """The settings of a copy of it, which the program is run with."""
    folder = shutil.copytree(lived_in, tmp_path / "instance")
    folder.chmod(0o700)
    monkeypatch.setenv("TRAINER_INSTANCE", str(folder))
    return settings_from({"TRAINER_INSTANCE": str(folder)})


@pytest.fixture(params=["sqlite", pytest.param("postgresql", marks=pytest.mark.postgres)])
def any_site(request, site):
    """A lived-in site, once on each engine."""
    if request.param == "sqlite":
        return site
    url = request.getfixturevalue("empty_postgres_url")
    copy_site(site.database, url)
    return replace(site, database=url)


@pytest.fixture
def run():
    """Run a command of the program in this process."""

    def command(*words, **environment):
        return CliRunner(env=environment).invoke(main, list(map(str, words)), catch_exceptions=False)

    return command
