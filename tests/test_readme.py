"""The README's commands are the ones that the main job and the newcomer run."""

import re
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]


def commands():
    return re.findall(r"```sh\n(.+?)\n```", (ROOT / "README.md").read_text(encoding="utf-8"), re.DOTALL)


def test_there_are_two_commands_and_each_makes_its_environment():
    assert len(commands()) == 2
    assert all(command.startswith("python3 -m venv .venv && .venv/bin/pip install -q -e ") for command in commands())


def test_the_main_job_calls_the_readmes_test_command():
    assert commands()[1] in (ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()


def test_nothing_but_the_agreed_names_stands_at_the_top_level():
    agreed = {"README.md", "DEVELOPERS.md", "pyproject.toml", "trainer", "lessons", "questions", "tests", "instance"}
    made = {"build", "dist", "htmlcov"}

    found = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")}

    assert found - agreed - made == set()
