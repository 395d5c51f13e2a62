"""What a start takes into memory, in a process of its own: here the other tests have loaded all there is."""

from __future__ import annotations

import json
import subprocess
import sys

from werkzeug.routing import AnyConverter, IntegerConverter, Rule

from trainer.config import Settings
from trainer.web.app import build

#: Needed by a command, a sheet, a photograph or a spreadsheet only: loaded with the first one that wants it.
LATER = {
    "PIL",
    "alembic",
    "authlib",
    "faker",
    "gunicorn",
    "joserfc",
    "prometheus_client",
    "psycopg",
    "pyotp",
    "requests",
    "spellchecker",
    "typst",
    "xlsxwriter",
}
#: Needed where a file of questions or lessons is compiled, which a worker does beside its first requests: what validates
#: such a file, what shapes it has, and what compiles it.
COMPILING = {
    "pydantic",
    "pydantic_core",
    "trainer.lessons.front",
    "trainer.lessons.shape",
    "trainer.problems.compiling",
    "trainer.problems.file_compiling",
    "trainer.problems.hands_on.compiling",
    "trainer.problems.shape",
    "trainer.problems.shaping",
}
#: Plain values are structs: a frozen dataclass takes forty times as long to make, and there are hundreds. These keep what
#: they have worked out, or are one by identity.
DATACLASSES = [
    "trainer.calc.layout_tube.Centreline",
    "trainer.lessons.model.Lesson",
    "trainer.problems.job.Job",
    "trainer.problems.parts.Family",
]
START = """
import dataclasses, gc, json, sys
import trainer

build = trainer.load()
print(json.dumps({
    "collects": gc.isenabled(),
    "frozen": gc.get_freeze_count(),
    "same": trainer.load() is build,
    "loaded": sorted(sys.modules),
    "dataclasses": sorted(
        f"{held.__module__}.{held.__qualname__}"
        for name, module in sys.modules.items() if name.split(".")[0] == "trainer"
        for held in vars(module).values()
        if isinstance(held, type) and dataclasses.is_dataclass(held) and held.__module__ == name
    ),
}))
"""

FIRST_ANSWER = """
import json, sys
from pathlib import Path
import trainer
from trainer.config import Settings

build = trainer.load()
app = build(Settings(instance=Path(sys.argv[1]), database=sys.argv[2]))
with app.test_client() as client:
    answers = [client.get(path, follow_redirects=True).status_code for path in ("/", "/sign-in")]
answered = sorted(sys.modules)
from trainer.problems.hands_on import KINDS

library = app.extensions["trainer.library"]
for held in (library.families, library.lessons, KINDS):
    assert next(iter(held.values()))
print(json.dumps({"answers": answers, "answered": answered, "compiled": sorted(sys.modules)}))
"""


def test_loading_takes_no_more_than_pages_need_and_leaves_it_to_no_collector():
    ran = subprocess.run([sys.executable, "-c", START], capture_output=True, text=True, check=True)
    found = json.loads(ran.stdout)
    loaded = {name.split(".")[0] for name in found["loaded"]}

    assert found["collects"]
    assert found["frozen"] > len(found["loaded"])
    assert found["same"]
    assert found["dataclasses"] == DATACLASSES
    assert "trainer.web.app" in found["loaded"]
    assert loaded & LATER == set()
    assert "sqlalchemy.dialects.sqlite" in found["loaded"]
    assert "sqlalchemy.dialects.postgresql" not in found["loaded"]
    assert {name for name in found["loaded"] if name.startswith(("trainer.cli", "trainer.demo"))} == set()


def test_what_validates_and_compiles_files_is_loaded_with_the_first_of_them_and_not_before(sqlite_url, tmp_path):
    command = [sys.executable, "-c", FIRST_ANSWER, str(tmp_path), sqlite_url]
    ran = subprocess.run(command, capture_output=True, text=True, check=True)
    found = json.loads(ran.stdout.splitlines()[-1])

    assert found["answers"] == [200, 200]
    assert COMPILING & {*found["answered"]} == set()
    # A name that is no longer right would find nothing.
    assert COMPILING - {*found["compiled"]} == set()


def test_a_route_works_out_how_its_addresses_are_put_together_when_one_is_wanted_and_not_before(
    sqlite_url, tmp_path, monkeypatch
):
    worked_out, compile_builder = [], Rule._compile_builder

    def note(rule, append_unknown=True):
        worked_out.append((rule.endpoint, append_unknown))
        return compile_builder(rule, append_unknown)

    monkeypatch.setattr(Rule, "_compile_builder", note)
    app = build(Settings(instance=tmp_path, database=sqlite_url))
    addresses = app.url_map.bind("localhost")

    assert worked_out == []
    for _ in range(2):
        assert addresses.build("learn.lesson", {"lesson_id": "box-fill", "rule": "a"}) == "/lessons/box-fill?rule=a"
    assert worked_out == [("learn.lesson", True)]


def test_every_route_puts_its_addresses_together_as_a_plain_one_does(app):
    for late in app.url_map.iter_rules():
        plain = Rule(late.rule, endpoint=late.endpoint, methods=late.methods, defaults=late.defaults)
        plain.bind(app.url_map)
        values = {name: some(converter) for name, converter in late._converters.items()} | {"self": 1, "rule": 2}

        for append_unknown in (False, True):
            assert late.build(values, append_unknown) == plain.build(values, append_unknown)


def some(converter):
    """A value that it takes."""
    if isinstance(converter, AnyConverter):
        return min(converter.items)
    return 7 if isinstance(converter, IntegerConverter) else "a/b c"
