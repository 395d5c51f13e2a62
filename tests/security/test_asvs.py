"""The table of the verification standard: each line has its tests, its reason or its gap, and the tests are there."""

from __future__ import annotations

import ast
import tomllib
from functools import cache
from pathlib import Path

import pytest

TESTS = Path(__file__).parents[1]
PROGRAM = TESTS.parent / "trainer"
LINES = tomllib.loads(Path(__file__).with_name("asvs.toml").read_text("utf-8"))["line"]
#: Modules that draw what nobody may guess.
SECRET = (
    "accounts/sessions.py",
    "accounts/passwords.py",
    "groups/calendar.py",
    "records/types.py",
    "problems/codes.py",
)


@cache
def names_in(file):
    tree = ast.parse((TESTS / file).read_text("utf-8"))
    return {one.name for one in ast.walk(tree) if isinstance(one, ast.FunctionDef)}


@pytest.mark.parametrize("line", LINES, ids=lambda line: line["section"])
def test_each_line_has_tests_that_there_are_or_says_why_not(line):
    assert line["about"]
    assert line.get("tests") or line.get("reason") or line.get("gap")
    for named in line.get("tests", []):
        file, _, name = named.partition("::")
        assert name in names_in(file), named


def test_every_chapter_is_spoken_of_once_a_section():
    sections = [line["section"] for line in LINES]

    assert {one.split()[0].split(".")[0] for one in sections} == {f"V{nth}" for nth in range(1, 18)}
    assert len(set(sections)) == len(sections)


@pytest.mark.parametrize("file", SECRET)
def test_what_must_not_be_guessed_is_drawn_from_the_system(file):
    imported = {
        name.name
        for one in ast.walk(ast.parse((PROGRAM / file).read_text("utf-8")))
        if isinstance(one, ast.Import)
        for name in one.names
    }

    assert "secrets" in imported
    assert "random" not in imported
