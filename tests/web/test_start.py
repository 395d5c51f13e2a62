"""What a start takes into memory, in a process of its own: here the other tests have loaded all there is."""

from __future__ import annotations

import json
import subprocess
import sys

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
