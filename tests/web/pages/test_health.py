"""Whether the site is up."""

from __future__ import annotations

from trainer.records.engine import Database
from trainer.web.transactions import keep_records


def test_it_says_ok_and_nothing_else(client):
    page = client.get("/healthz")

    assert page.status == 200
    assert page.text == '{"status":"ok"}\n'


def test_it_says_so_when_the_records_cannot_be_read(client, app, clock, tmp_path):
    keep_records(app, Database(f"sqlite:///{tmp_path}/empty.db"), clock)

    page = client.get("/healthz")

    assert page.status == 503
    assert page.text == '{"status":"records cannot be read"}\n'
