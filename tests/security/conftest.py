"""
Fixtures of the security tests: one populated site for all of them, and a way in for each kind of visitor.

The site is built once; each request runs inside a transaction that is rolled back, so that no request sees what another
one did, and what a request wrote can be looked at.
"""

from __future__ import annotations

import importlib.util
import shutil
import sys
from contextlib import contextmanager
from pathlib import Path
from types import SimpleNamespace

import pytest

from trainer.accounts.passwords import CHEAP_PASSWORDS
from trainer.config import Settings
from trainer.records.engine import Database
from trainer.web.app import build
from trainer.web.transactions import keep_records

HERE = Path(__file__).parent


def _module(name, file):
    """A helper module beside the tests, which are no package."""
    if name not in sys.modules:
        spec = importlib.util.spec_from_file_location(name, file)
        sys.modules[name] = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(sys.modules[name])
    return sys.modules[name]


pages = _module("security_pages", HERE.parent / "web" / "conftest.py")
visiting = _module("security_visiting", HERE / "visiting.py")
populating = _module("security_populating", HERE / "populating.py")
filling = _module("security_filling", HERE / "filling.py")
hostile = _module("security_hostile", HERE / "hostile.py")
spoiling = _module("security_spoiling", HERE / "spoiling.py")


@contextmanager
def populated(folder, template, **more):
    """A populated site in a folder, with these further settings."""
    file = folder / "site.db"
    shutil.copyfile(template, file)
    settings = Settings(folder, f"sqlite:///{file}", development=True, secure_cookies=False, log_level="error", **more)
    app = build(settings, passwords=CHEAP_PASSWORDS)
    app.config["PROPAGATE_EXCEPTIONS"] = True
    app.extensions["trainer.database"].close()
    database, clock = Database(settings.database), pages.Clock()
    keep_records(app, database, clock)
    made = populating.populate(app, clock, pages.Given)
    yield visiting.Site(app, database, clock, made)
    database.close()


@pytest.fixture(scope="session")
def site(sqlite_template, tmp_path_factory):
    """The populated site, with `visit` and the ids of what is in it."""
    with populated(tmp_path_factory.mktemp("populated"), sqlite_template) as made:
        yield made


@pytest.fixture(scope="session")
def spoilt_site(sqlite_template, tmp_path_factory):
    """The same with hostile words in all lessons and question files, and in whatever people have typed."""
    root = tmp_path_factory.mktemp("spoilt-content")
    spoiling.spoil_content(root)
    with populated(tmp_path_factory.mktemp("spoilt"), sqlite_template, content=root) as made:
        spoiling.spoil_records(made.database)
        yield made


@pytest.fixture(scope="session")
def forms(site):
    """Every form that some visitor finds on some page, by the endpoint and method that it goes to."""
    return filling.forms_of(site, hostile.encoded)


@pytest.fixture(scope="session")
def parts():
    """The helpers that tests ask by name."""
    return SimpleNamespace(
        visitors=populating.VISITORS,
        words=populating.WORDS,
        password=populating.PASSWORD,
        address=filling.address,
        hostile=hostile,
        spoiling=spoiling,
    )
