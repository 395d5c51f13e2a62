"""
Measure how long the application takes from nothing to the answer of its first request.

    python tests/benchmarks/start.py [--times N]

Each time is a process of its own, on a database that is made already, with the byte code of the last time. Printed are
medians of the processor's seconds: importing the program, putting the application together with lessons and questions
held as text, the first request, the next page, and what it costs to compile all questions and lessons, which a server
spreads over the pages that want them. The aim is 1.5 s from nothing to the first answer; a star marks it missed. Nothing
here is a test; `tests/web/test_content.py` holds what must not happen at the start.
"""

from __future__ import annotations

import argparse
import json
import os
import subprocess
import sys
import tempfile
import time
from itertools import pairwise
from pathlib import Path
from statistics import median

from trainer import load
from trainer.config import settings_from

AIM = 1.5
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


def main():
    reader = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    reader.add_argument("--times", type=int, default=7)
    reader.add_argument("--one", metavar="INSTANCE", help=argparse.SUPPRESS)
    wanted = reader.parse_args()
    if wanted.one:
        sys.stdout.write(json.dumps(one_start(wanted.one)) + "\n")
        return 0
    from trainer.records.migrate import upgrade  # noqa: PLC0415 - no part of a start, which takes its database as it is

    with tempfile.TemporaryDirectory() as instance:
        upgrade(settings_from({"TRAINER_INSTANCE": instance}).database)
        environment = {**os.environ, "PYTHONPYCACHEPREFIX": str(Path(instance) / "code")}
        environment.pop("PYTHONDONTWRITEBYTECODE", None)
        command = [sys.executable, __file__, "--one", instance]
        ran = [
            subprocess.run(command, env=environment, capture_output=True, text=True, check=True).stdout
            for _ in range(wanted.times + 1)
        ]
    starts = [json.loads(text.splitlines()[-1]) for text in ran[1:]]
    medians = [median(start["seconds"][at] for start in starts) for at in range(len(PARTS))]
    for part, seconds in zip(PARTS, medians, strict=True):
        sys.stdout.write(f"{part:40}{seconds:8.2f} s\n")
    whole = sum(medians[:3])
    star = "" if whole < AIM else "*"
    sys.stdout.write(
        f"{'from nothing to the first answer':40}{whole:8.2f} s{star}  ({starts[0]['families']} families)\n"
    )
    return 0


if __name__ == "__main__":
    sys.exit(main())
