"""Example rows for the tables of each revision, and a site that holds them all."""

from __future__ import annotations

import base64
import tomllib
from pathlib import Path

import pytest
from sqlalchemy import MetaData

from trainer.records.migrate import head, revisions, whole_change

ROWS = Path(__file__).with_name("rows")


@pytest.fixture(scope="session")
def example_rows():
    """
    Rows by table that a revision's file holds; FileNotFoundError where a revision has none.

    TOML has no bytes: they stand as `{ base64 = "..." }`.
    """

    def read(revision):
        tables = tomllib.loads((ROWS / f"{revision}.toml").read_text("utf-8"))
        return {
            table: [{name: plain(value) for name, value in row.items()} for row in rows]
            for table, rows in tables.items()
        }

    def plain(value):
        return base64.b64decode(value["base64"]) if isinstance(value, dict) and set(value) == {"base64"} else value

    return read


@pytest.fixture(scope="session")
def add_example_rows(example_rows):
    """Put a revision's example rows into the tables as they are at that moment."""

    def add(connection, revision):
        tables = MetaData()
        tables.reflect(connection)
        rows = example_rows(revision)
        for table in tables.sorted_tables:
            for row in rows.get(table.name, []):
                connection.execute(table.insert().values(row))
        assert set(rows) <= set(tables.tables)

    return add


@pytest.fixture(scope="session")
def build_examples(add_example_rows):
    """Bring a database up to a revision, one after the other, each with its example rows."""

    def build(file, last):
        with whole_change(f"sqlite:///{file}") as (connection, migrate):
            for revision in revisions()[: revisions().index(last) + 1]:
                migrate(revision)
                add_example_rows(connection, revision)
        return file

    return build


@pytest.fixture(scope="session")
def site_of_examples(tmp_path_factory, build_examples):
    """An SQLite file at the head with the example rows of all revisions in it. To be read, or copied."""
    return build_examples(tmp_path_factory.mktemp("examples") / "site.db", head())
