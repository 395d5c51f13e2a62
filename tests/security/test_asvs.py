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
USES = tomllib.loads(Path(__file__).with_name("cryptography.toml").read_text("utf-8"))["use"]
#: Packages by which something is hashed, signed, encrypted or drawn.
METHODS = {"argon2", "authlib", "cryptography", "hashlib", "hmac", "itsdangerous", "joserfc", "pyotp", "secrets", "ssl"}
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


def packages_in(file):
    for one in ast.walk(ast.parse(file.read_text("utf-8"))):
        if isinstance(one, ast.Import):
            yield from (name.name.partition(".")[0] for name in one.names)
        elif isinstance(one, ast.ImportFrom):
            yield (one.module or "").partition(".")[0]


def test_the_list_of_methods_names_every_module_that_hashes_signs_or_draws():
    """A module that begins to do so has to say what for, and with what."""
    files = {file.relative_to(PROGRAM).as_posix(): file for file in PROGRAM.rglob("*.py")}
    using = {name for name, file in files.items() if METHODS & {*packages_in(file)}}
    listed = [name for use in USES for name in use["in"]]

    assert len(using) > 20
    assert {*listed} == using
    assert len(listed) == len({*listed})
    assert all(use["what"] and use["with"] for use in USES)
