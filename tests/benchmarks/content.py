"""
Check every family at 10,000 draws, as `trainer check-content` does at 1,000: every key and known mistake typed.

    python tests/benchmarks/content.py [--draws N] [--workers N] [--fresh] [FAMILY | UNIT ...]

Families are shared out over all processors. What was checked is kept beside the temporary files, by the hashes of the
family and the program's own source: broken off and started again, it goes on where it was; whatever has been changed since
is checked anew, and --fresh checks everything. Printed for each family: draws, findings and seconds of the processor. Exit
status 1 when something is found.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import os
import sys
import tempfile
import time
from concurrent.futures import ProcessPoolExecutor, as_completed
from functools import cache
from pathlib import Path

import trainer
from trainer.problems.shelf import content_root, load_families, load_skills
from trainer.problems.standards import standards
from trainer.problems.trial import trial

DRAWS = 10_000
KEPT = Path(tempfile.gettempdir()) / "tubing-trainer-content-check.jsonl"
ROOT = content_root()
#: Parts of the program on which a check rests.
RESTS_ON = ("calc", "figures", "text", "problems")


def program_hash():
    """Of the source that draws, judges and draws figures."""
    digest = hashlib.sha256()
    for part in RESTS_ON:
        for file in sorted((Path(trainer.__file__).parent / part).rglob("*.*")):
            if file.suffix in {".py", ".toml"}:
                digest.update(file.read_bytes())
    return digest.hexdigest()[:16]


def version_of(family, draws, program):
    return f"{family.id} {family.rules_hash[:16]} {family.words_hash[:16]} {program} {draws}"


def kept_from_before():
    """Reports by version; a last line that was broken off is none."""
    reports = {}
    for text in KEPT.read_text("utf-8").splitlines() if KEPT.exists() else ():
        try:
            report = json.loads(text)
        except json.JSONDecodeError:
            continue
        reports[report["version"]] = report
    return reports


@cache
def shelf():
    """The families, read once in each process."""
    return load_families(ROOT / "questions")


def check_family(name, draws):
    """One family, in a process of its own."""
    family = shelf()[name]
    begun = time.process_time()
    lessons = [path.stem for path in (ROOT / "lessons").glob("*.md")]
    found = [*standards(family, load_skills(ROOT / "questions"), lessons), *trial(family, draws)]
    return {"findings": [str(error) for error in found], "seconds": time.process_time() - begun}


def line(name, draws, findings, seconds):
    sys.stdout.write(f"{name:38}{draws:>9} draws{findings:>5} found{seconds:>9.1f} s\n")
    sys.stdout.flush()


def check_all(families, draws, workers, before):
    """Reports by family; those of before are taken as they are, new ones are kept as they come."""
    program = program_hash()
    versions = {family.id: version_of(family, draws, program) for family in families}
    reports = {name: before[version] for name, version in versions.items() if version in before}
    for name, report in reports.items():
        line(f"{name} (before)", draws, len(report["findings"]), report["seconds"])
    with ProcessPoolExecutor(workers) as pool, KEPT.open("a", encoding="utf-8") as kept:
        todo = {pool.submit(check_family, one.id, draws): one.id for one in families if one.id not in reports}
        for done in as_completed(todo):
            name, report = todo[done], done.result()
            reports[name] = report
            kept.write(json.dumps({"version": versions[name], **report}) + "\n")
            kept.flush()
            line(name, draws, len(report["findings"]), report["seconds"])
            sys.stdout.write("".join(f"    {finding}\n" for finding in report["findings"]))
    return reports


def main():
    reader = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    reader.add_argument("only", nargs="*", metavar="FAMILY | UNIT")
    reader.add_argument("--draws", type=int, default=DRAWS)
    reader.add_argument("--workers", type=int, default=os.cpu_count())
    reader.add_argument("--fresh", action="store_true", help="check again what was checked before")
    wanted = reader.parse_args()
    families = [
        family
        for family in shelf().values()
        if not wanted.only or {family.id, family.skill.split(".")[0]} & {*wanted.only}
    ]
    begun = time.perf_counter()
    reports = check_all(families, wanted.draws, wanted.workers, {} if wanted.fresh else kept_from_before())
    found = sum(len(report["findings"]) for report in reports.values())
    processor = sum(report["seconds"] for report in reports.values())
    sys.stdout.write(
        f"{len(reports)} families, {wanted.draws} draws of each, {found} found; {processor:.0f} s of the processor, "
        f"{time.perf_counter() - begun:.0f} s by the clock\n"
    )
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
