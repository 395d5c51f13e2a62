"""`trainer coverage`."""

import json

import pytest
from click.testing import CliRunner

from trainer.cli import main


@pytest.fixture
def run():
    return lambda *words: CliRunner().invoke(main, ["coverage", *words])


def test_every_fact_is_listed_with_its_places(run):
    result = run()

    assert result.exit_code == 0
    assert "taught: " in result.stdout
    assert result.stdout.splitlines()[-1].endswith("0 without a place or a reason.")


def test_as_json(run):
    facts = {fact["name"]: fact for fact in json.loads(run("--json").stdout)["facts"]}

    assert "offset-bends" in facts["bends.offset_constants"]["taught"]


def test_only_what_is_open(run):
    assert run("--open").stdout.startswith(tuple("0123456789"))


def test_a_folder_without_the_list_is_named(run, tmp_path, monkeypatch):
    for name in ("lessons", "questions"):
        (tmp_path / name).mkdir()
    monkeypatch.setenv("TRAINER_CONTENT", str(tmp_path))

    result = run()

    assert result.exit_code == 1
    assert "lessons/coverage.toml" in result.stderr
