"""What the application reads before it takes its first request, and what it leaves until it is wanted."""

from __future__ import annotations

import inspect
import shutil
import sys
from pathlib import Path

import pytest
from msgspec.structs import replace

import trainer
from trainer.calc import trace as tracer
from trainer.calc.catalogue import CATALOGUE
from trainer.calc.held_source import source_of
from trainer.calc.offset import offset
from trainer.config import Settings
from trainer.problems.errors import ContentError
from trainer.problems.shelf import content_root
from trainer.web.app import build

PACKAGE = Path(trainer.__file__).parent


def test_worked_steps_need_no_source_once_the_application_stands(app, monkeypatch):
    assert app.extensions["trainer.library"]

    def gone(function):
        raise OSError(f"the source of {function!r} was read after the start")

    monkeypatch.setattr(inspect, "getsourcelines", gone)
    monkeypatch.setattr(Path, "read_text", gone)
    tracer._twin.cache_clear()

    for calculation in CATALOGUE.values():
        result, steps = calculation.trace(calculation.read(calculation.example_inputs))

        assert result == calculation.solve(calculation.read(calculation.example_inputs))
        assert steps


def test_the_held_source_is_the_function_s_own(app):
    assert app.extensions["trainer.library"]
    lines, first = inspect.getsourcelines(offset)

    assert source_of(offset) == ("".join(lines), first)


def test_starting_draws_nothing_and_compiles_no_steps_and_no_question(sqlite_url, tmp_path):
    codes = set()

    def note_call(frame, event, argument):
        del argument
        if event == "call":
            codes.add(frame.f_code)

    sys.setprofile(note_call)
    try:
        build(Settings(instance=tmp_path, database=sqlite_url))
    finally:
        sys.setprofile(None)
    inside = {code for code in codes if code.co_filename.startswith(f"{PACKAGE}/")}
    called = {(Path(code.co_filename).relative_to(PACKAGE).as_posix(), code.co_name) for code in inside}

    assert ("web/app.py", "build") in called
    assert {name for name in called if name[0].startswith("figures/")} == set()
    assert {file for file, _ in called} & {"problems/draw.py", "problems/worked.py", "problems/trial.py"} == set()
    assert ("calc/trace.py", "_twin") not in called
    assert {file for file, _ in called} & {"problems/compiling.py", "lessons/directives.py"} == set()


@pytest.mark.parametrize("told", ["development", "content"])
def test_content_that_somebody_writes_is_read_through_at_the_start(told, sqlite_url, tmp_path, monkeypatch):
    root = tmp_path / "content"
    for folder in ("lessons", "questions"):
        shutil.copytree(content_root() / folder, root / folder)
    wrong = root / "questions" / "bends" / "offset-far-mark.toml"
    wrong.write_text(wrong.read_text("utf-8").replace('answer = "first_mark"', 'answer = "frist_mark"'), "utf-8")
    settings = Settings(instance=tmp_path, database=sqlite_url)
    chosen = {"content": root} if told == "content" else {"development": True}

    monkeypatch.setattr("trainer.web.content.content_root", lambda _: root)

    with pytest.raises(ContentError) as raised:
        build(replace(settings, **chosen))

    assert raised.value.file == "questions/bends/offset-far-mark.toml"


def test_a_function_that_does_not_say_its_steps_is_refused():
    with pytest.raises(TypeError, match="mark it with @steps"):
        tracer.trace(plain)


def plain():
    """Says no steps."""
