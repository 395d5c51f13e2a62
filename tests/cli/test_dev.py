"""All checks in one word: no folder of tests is left out, none runs twice, and one check that fails makes all fail."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from trainer.cli import dev

TESTS = Path(__file__).resolve().parents[1]


@pytest.fixture
def steps(monkeypatch):
    run = {}
    monkeypatch.setattr(dev, "passes", lambda name, command, _root: run.setdefault(name, command) is not None)
    return run


def test_every_folder_of_tests_runs_once(steps):
    done = CliRunner().invoke(dev.dev, ["check"])

    assert done.exit_code == 0, done.output
    apart, rest = steps["tests of pages, commands and tables"], steps["all other tests"]
    folders = {f"tests/{one.name}" for one in TESTS.iterdir() if one.is_dir() and any(one.glob("**/test_*.py"))}
    named = {word for word in apart if word.startswith("tests/")}
    left_out = {word.removeprefix("--ignore=") for word in rest if word.startswith("--ignore=")}
    assert named == left_out
    assert named < folders
    assert not any(word.startswith("tests") for word in rest)
    assert "--cov" in rest
    assert "--cov" not in apart


def test_quick_leaves_out_browser_and_coverage_alone(steps):
    done = CliRunner().invoke(dev.dev, ["check", "--quick"])

    assert done.exit_code == 0, done.output
    assert steps["tests"][-2:] == ["-m", "not browser"]
    assert "coverage" not in steps


def test_one_check_that_fails_makes_all_fail_and_is_named(monkeypatch):
    monkeypatch.setattr(dev, "passes", lambda name, _command, _root: name != "layers")

    done = CliRunner().invoke(dev.dev, ["check"])

    assert done.exit_code == 1
    assert "not clean: layers" in done.output
