"""
Measure how long the application takes from nothing to the answer of its first request.

    python tests/benchmarks/start.py [--times N]

Each time is a process of its own, on a database that is made already, with the byte code of the last time. Printed are
medians of the processor's seconds: importing the program, putting the application together with lessons and questions
held as text, the first request, the next page, and what it costs to compile all questions and lessons, which a server
spreads over the pages that want them. The aim is 1.5 s from nothing to the first answer; a star marks it missed.

Machines differ, and one machine by the hour: so the libraries alone are imported in turn with it, and the median of the
ratios is told. That import took 0.431 s on the machine that the aim was set for, as the others' floors were measured
there: what the start would take there is the ratio times that. Nothing here is a test; `tests/web/test_content.py` and
`tests/web/test_start.py` hold what must not happen at the start.
"""

from __future__ import annotations

import argparse
import json
import os
import subprocess
import sys
import tempfile
import time
from importlib import import_module
from itertools import pairwise
from pathlib import Path
from statistics import median

from trainer import load
from trainer.config import settings_from

AIM = 1.5
#: What the program stands on, without what a start leaves to later.
LIBRARIES = [
    "flask",
    "sqlalchemy.orm",
    "wtforms",
    "flask_wtf",
    "argon2",
    "markdown",
    "nh3",
    "msgspec",
    "segno",
    "gunicorn.app.base",
    "whitenoise",
]
LIBRARIES_THERE = 0.431
PARTS = ("import", "application", "first request", "next page", "all questions and lessons")


def one_start(instance):
    """The seconds of each part, in this process."""
    begun = 0.0  # of the process: the interpreter's own start counts too
    build = load()
    imported = time.process_time()
    app = build(settings_from({"TRAINER_INSTANCE": instance}))
    built = time.process_time()
    client = app.test_client()
    assert client.get("/").status_code == 200
    first = time.process_time()
    assert client.get("/sign-in", follow_redirects=True).status_code == 200
    done = time.process_time()
    library = app.extensions["trainer.library"]
    families, _ = list(library.families.values()), list(library.lessons.values())
    compiled = time.process_time()
    at = (begun, imported, built, first, done, compiled)
    return {"families": len(families), "seconds": [later - earlier for earlier, later in pairwise(at)]}


def libraries_alone():
    """The seconds that a process of its own takes to import the libraries."""
    for name in LIBRARIES:
        import_module(name)
    return time.process_time()


def told_by(option, *values, environment):
    """What this file prints for an option, in a process of its own."""
    command = [sys.executable, __file__, option, *values]
    ran = subprocess.run(command, env=environment, capture_output=True, text=True, check=True)
    return json.loads(ran.stdout.splitlines()[-1])


def main():
    reader = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    reader.add_argument("--times", type=int, default=7)
    reader.add_argument("--one", metavar="INSTANCE", help=argparse.SUPPRESS)
    reader.add_argument("--libraries", action="store_true", help=argparse.SUPPRESS)
    wanted = reader.parse_args()
    if wanted.libraries:
        sys.stdout.write(f"{libraries_alone()}\n")
        return 0
    if wanted.one:
        sys.stdout.write(json.dumps(one_start(wanted.one)) + "\n")
        return 0
    from trainer.records.migrate import upgrade  # noqa: PLC0415 - no part of a start, which takes its database as it is

    with tempfile.TemporaryDirectory() as instance:
        upgrade(settings_from({"TRAINER_INSTANCE": instance}).database)
        environment = {**os.environ, "PYTHONPYCACHEPREFIX": str(Path(instance) / "code")}
        environment.pop("PYTHONDONTWRITEBYTECODE", None)
        turns = [
            (
                told_by("--libraries", environment=environment),
                told_by("--one", instance, environment=environment),
            )
            for _ in range(wanted.times + 1)
        ][1:]
    medians = [median(start["seconds"][at] for _, start in turns) for at in range(len(PARTS))]
    for part, seconds in zip(PARTS, medians, strict=True):
        sys.stdout.write(f"{part:40}{seconds:8.2f} s\n")
    wholes = [sum(start["seconds"][:3]) for _, start in turns]
    ratios = [whole / alone for whole, (alone, _) in zip(wholes, turns, strict=True)]
    _tell("from nothing to the first answer", median(wholes), f"  ({turns[0][1]['families']} families)")
    sys.stdout.write(f"{'the libraries alone':40}{median(alone for alone, _ in turns):8.2f} s\n")
    spread = f"{min(ratios):.2f} to {max(ratios):.2f}"
    sys.stdout.write(f"{'ratio of the two':40}{median(ratios):8.2f}    ({spread})\n")
    _tell(f"where the libraries take {LIBRARIES_THERE} s", median(ratios) * LIBRARIES_THERE)
    return 0


def _tell(what, seconds, more=""):
    sys.stdout.write(f"{what:40}{seconds:8.2f} s{'' if seconds < AIM else '*'}{more}\n")


if __name__ == "__main__":
    sys.exit(main())
