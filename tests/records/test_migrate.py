"""Migrations: the head is the models, each revision goes up and down with rows in it, odd databases are refused."""

from __future__ import annotations

import re
import shutil

import pytest
from sqlalchemy import CheckConstraint, MetaData, inspect, select, text

from trainer.records.engine import open_engine
from trainer.records.migrate import (
    FOLDER,
    DatabaseVersionError,
    check_version,
    current,
    differences,
    downgrade,
    head,
    new_revision,
    revisions,
    upgrade,
)
from trainer.records.models import Base
from trainer.records.revision import line_of_revisions

ALEMBICS_OWN = {"alembic_version"}


def looked_at(url, look):
    engine = open_engine(url)
    try:
        with engine.begin() as connection:
            return look(connection)
    finally:
        engine.dispose()


def schema(connection):
    """Everything that a migration could change, in a form that can be compared."""
    found = inspect(connection)
    return {
        table: {
            "columns": {
                column["name"]: (str(column["type"]), column["nullable"], column["default"])
                for column in found.get_columns(table)
            },
            "unique": {one["name"]: one["column_names"] for one in found.get_unique_constraints(table)},
            "check": {one["name"]: one["sqltext"] for one in found.get_check_constraints(table)},
            "indexes": {
                one["name"]: (one["column_names"], one["unique"], _condition(one)) for one in found.get_indexes(table)
            },
            "foreign": {
                one["name"]: (
                    one["constrained_columns"],
                    one["referred_table"],
                    one["referred_columns"],
                    one["options"],
                )
                for one in found.get_foreign_keys(table)
            },
        }
        for table in set(found.get_table_names()) - ALEMBICS_OWN
    }


def _condition(index):
    return {key: str(value) for key, value in index.get("dialect_options", {}).items() if key.endswith("_where")}


def contents(connection):
    tables = MetaData()
    tables.reflect(connection)
    return {
        table.name: sorted(map(repr, connection.execute(select(table)).mappings()))
        for table in tables.sorted_tables
        if table.name not in ALEMBICS_OWN
    }


def test_the_head_is_what_the_models_say(any_database):
    assert differences(any_database.url) == []


def test_the_head_has_the_rules_that_the_models_have(any_database):
    found = looked_at(any_database.url, schema)
    checks = {name for table in found.values() for name in table["check"]}

    expected = {
        f"ck_{table.name}_{check.name}" if not str(check.name).startswith("ck_") else str(check.name)
        for table in Base.metadata.tables.values()
        for check in table.constraints
        if isinstance(check, CheckConstraint)
    }
    assert checks == expected


def test_the_rules_of_the_head_read_as_in_the_models(database):
    found = looked_at(database.url, schema)

    for table in Base.metadata.tables.values():
        written = {str(one.name): str(one.sqltext) for one in table.constraints if isinstance(one, CheckConstraint)}
        assert found[table.name]["check"] == written
        conditions = {
            index.name: str(index.dialect_options["sqlite"]["where"])
            for index in table.indexes
            if index.dialect_options["sqlite"]["where"] is not None
        }
        indexes = found[table.name]["indexes"]
        assert {name: index[2]["sqlite_where"] for name, index in indexes.items() if index[2]} == conditions


def test_each_revision_goes_up_and_down_with_rows_in_it(any_empty_url, add_example_rows):
    url = any_empty_url
    states = [({}, {})]
    for revision in revisions():
        upgrade(url, revision)
        looked_at(url, lambda connection, revision=revision: add_example_rows(connection, revision))
        states.append((looked_at(url, schema), looked_at(url, contents)))

    for revision, (tables, rows) in zip(["base", *revisions()][-2::-1], states[-2::-1], strict=True):
        downgrade(url, revision)
        assert looked_at(url, schema) == tables
        kept = looked_at(url, contents)
        assert all(set(lines) <= set(kept[name]) for name, lines in rows.items())
        upgrade(url, "+1")
        downgrade(url, revision)

    upgrade(url)
    assert looked_at(url, schema) == states[-1][0]


def test_every_table_has_example_rows(example_rows):
    assert {table for revision in revisions() for table in example_rows(revision)} == set(Base.metadata.tables)


def test_a_migration_that_fails_leaves_nothing_behind(any_empty_url, monkeypatch):
    def fail(*_args, **_options):
        raise RuntimeError("no room left")

    monkeypatch.setattr("alembic.operations.Operations.create_index", fail)
    monkeypatch.setattr("alembic.operations.base.BatchOperations.create_index", fail)
    with pytest.raises(RuntimeError, match="no room left"):
        upgrade(any_empty_url)

    assert looked_at(any_empty_url, schema) == {}
    assert current(any_empty_url) is None


def test_a_migration_that_would_leave_rows_pointing_nowhere_is_rolled_back(sqlite_url, add_example_rows, monkeypatch):
    looked_at(sqlite_url, lambda connection: add_example_rows(connection, revisions()[0]))

    def lose_people(config, _revision):
        config.attributes["connection"].execute(text("DELETE FROM person"))

    monkeypatch.setattr("alembic.command.downgrade", lose_people)
    with pytest.raises(RuntimeError, match="point nowhere"):
        downgrade(sqlite_url, "base")

    assert len(looked_at(sqlite_url, contents)["person"]) == 3


def test_a_database_at_head_fits(any_database):
    check_version(any_database.url)

    assert current(any_database.url) == head()


def test_an_upgrade_of_a_database_at_head_changes_nothing(any_database):
    before = looked_at(any_database.url, schema)
    upgrade(any_database.url)

    assert looked_at(any_database.url, schema) == before


def test_an_empty_database_is_called_empty(any_empty_url):
    with pytest.raises(DatabaseVersionError, match=r"^The database is empty\. Run: trainer init$") as refused:
        check_version(any_empty_url)

    assert refused.value.state == "empty"


def test_looking_at_a_missing_file_does_not_make_it(tmp_path):
    with pytest.raises(DatabaseVersionError, match="empty"):
        check_version(f"sqlite:///{tmp_path}/none.db")

    assert list(tmp_path.iterdir()) == []


def test_the_line_that_servers_go_by_is_alembics():
    assert list(line_of_revisions()) == revisions()


def test_a_newer_database_is_refused_and_left_alone(any_database):
    looked_at(any_database.url, lambda c: c.execute(text("UPDATE alembic_version SET version_num = 'f00d'")))
    for act in (check_version, upgrade):
        with pytest.raises(DatabaseVersionError, match="from a newer version of the program") as refused:
            act(any_database.url)
        assert refused.value.state == "newer"

    assert current(any_database.url) == "f00d"


def test_an_older_database_says_how_to_bring_it_up(any_database, monkeypatch):
    monkeypatch.setattr("trainer.records.revision.line_of_revisions", lambda: (*revisions(), "f00d"))

    with pytest.raises(DatabaseVersionError, match=r"older version.*trainer init") as refused:
        check_version(any_database.url)

    assert refused.value.state == "older"


def test_another_programs_database_is_refused_and_left_alone(any_empty_url):
    looked_at(any_empty_url, lambda c: c.execute(text("CREATE TABLE parts (id INTEGER)")))
    for act in (check_version, upgrade):
        with pytest.raises(DatabaseVersionError, match="another program") as refused:
            act(any_empty_url)
        assert refused.value.state == "foreign"

    assert set(looked_at(any_empty_url, schema)) == {"parts"}


def test_files_of_migrations_are_named_by_time_revision_and_purpose():
    names = [file.name for file in (FOLDER / "versions").glob("*.py")]

    assert len(names) == len(revisions())
    assert all(re.fullmatch(r"\d{4}_\d\d_\d\d_\d{4}_[0-9a-f]{12}_[a-z0-9_]+\.py", name) for name in names)


def test_no_migration_imports_the_program():
    texts = [file.read_text("utf-8") for file in (FOLDER / "versions").glob("*.py")]

    assert texts
    assert not [text for text in texts if re.search(r"^\s*(from|import) trainer", text, re.MULTILINE)]


def test_a_new_revision_is_written_from_the_models(sqlite_url, tmp_path, monkeypatch, capsys):
    copy = tmp_path / "migrations"
    shutil.copytree(FOLDER, copy)
    monkeypatch.setattr("trainer.records.migrate.FOLDER", copy)
    looked_at(sqlite_url, lambda c: c.execute(text("DROP TABLE lesson_reading")))

    written = new_revision(sqlite_url, "bring reading back")

    assert written.parent == copy / "versions"
    assert "bring_reading_back" in written.name
    source = written.read_text("utf-8")
    assert "rules of a safe migration" in source
    assert "create_table(" in source
    assert "sa.DateTime(timezone=True)" in source
    assert "trainer." not in source
    assert "Generating" in capsys.readouterr().out
