"""Whether the site is up and ready, as whoever runs it asks."""

from __future__ import annotations

import json

import pytest
from msgspec.structs import replace
from sqlalchemy import text

from trainer.accounts.site import make_site
from trainer.accounts.site_key import agree_on_key
from trainer.records.revision import line_of_revisions


@pytest.fixture
def made(app, clock):
    """The site is made, and its hosts sign with a key; gives back what changes the records by a statement."""
    with app.extensions["trainer.database"].write() as session:
        make_site(session, administrator="chief", edition="2023", now=clock.now)
        agree_on_key(session, app.secret_key, clock.now)

    def change(statement, **values):
        with app.extensions["trainer.database"].write() as session:
            session.execute(text(statement), values)

    return change


def asked(client):
    page = client.get("/readyz")
    return page.status, json.loads(page.text)


@pytest.mark.usefixtures("made")
def test_a_site_with_all_that_it_needs_is_ready(client):
    assert asked(client) == (200, {"status": "ready"})
    assert client.get("/readyz").headers["Cache-Control"] == "no-store"


def test_what_is_missing_is_told_in_plain_words(client):
    status, said = asked(client)

    assert status == 503
    assert said == {"status": "not ready", "missing": ["The site is not made yet. Run: trainer init"]}


@pytest.mark.parametrize(
    ("revision", "said"), [("f00d", "from a newer version"), (line_of_revisions()[0], "from an older version")]
)
def test_tables_of_another_version_are_told(client, made, revision, said):
    made("UPDATE alembic_version SET version_num = :revision", revision=revision)

    status, found = asked(client)

    assert status == 503
    assert said in found["missing"][0]


@pytest.mark.usefixtures("made")
def test_a_host_with_another_key_is_told_and_shows_neither(app, client, monkeypatch):
    old = app.secret_key
    monkeypatch.setattr(app, "secret_key", "another key, as long as the first one")

    page = client.get("/readyz")

    assert page.status == 503
    assert "TRAINER_SECRET_KEY" in page.text
    assert old not in page.text
    assert "another key, as long" not in page.text


def test_records_that_cannot_be_read_are_told_without_their_address(client, made):
    made("DROP TABLE site_key")

    status, found = asked(client)

    assert status == 503
    assert found["missing"] == ["The database cannot be read. The log says why."]


@pytest.mark.usefixtures("made")
def test_a_folder_that_cannot_be_written_and_content_that_is_not_there_are_told(app, client, monkeypatch, tmp_path):
    gone = replace(app.extensions["trainer.settings"], instance=tmp_path / "gone")
    monkeypatch.setitem(app.extensions, "trainer.settings", gone)
    monkeypatch.setattr(app.extensions["trainer.library"], "lesson_heads", {})

    status, found = asked(client)

    assert status == 503
    assert [line.split(". Look at ")[1] for line in found["missing"]] == ["TRAINER_CONTENT.", "TRAINER_INSTANCE."]
    assert str(tmp_path) not in json.dumps(found)
