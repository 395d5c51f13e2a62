"""
Measure how long the sheets of a class take: each learner's own problems, drawn, put together and set as PDF.

    python tests/benchmarks/sheets.py [--people N] [--times N]

A database is made with a class and its work; then the use case and the paper are timed as the page does both, by the
wall. Printed are medians of the parts and of the whole. The aim is 2 s for 30 learners with three pages each; a star
marks it missed. Nothing here is a test; `tests/web/pages/teach/test_sheets.py` holds what stands on the sheets.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from datetime import UTC, datetime, timedelta
from io import BytesIO
from itertools import pairwise
from statistics import median

from pypdf import PdfReader

from trainer.accounts.actor import actor_of_person
from trainer.config import settings_from
from trainer.groups.assigned import FamilyCount, assign
from trainer.groups.joining import join
from trainer.groups.membership import make_group, open_joining
from trainer.groups.organisations import appoint, make_organisation
from trainer.groups.sheets import make_sheets, work_sheets
from trainer.paper import typeset
from trainer.records.migrate import upgrade
from trainer.records.models import Person
from trainer.web.app import build
from trainer.web.papers.worksheets import sheets_paper

AIM = 2.0
NOW = datetime(2026, 9, 7, 17, 0, tzinfo=UTC)
FAMILIES = ("offset-far-mark", "saddle-centre-mark", "box-that-holds-it", "order-of-a-cut")
PARTS = ("read and drawn", "put together", "set as PDF")


def class_with_work(app, people):
    """The instructor and the work of a class of so many, whose sheets are made."""
    library = app.extensions["trainer.library"]
    with app.extensions["trainer.database"].write() as session:
        names = ["admin", "instructor", *(f"learner-{nth}" for nth in range(people))]
        rows = [Person(sign_in_name=name, display_name=name.title(), created_at=NOW) for name in names]
        rows[0].is_site_administrator = True
        session.add_all(rows)
        session.flush()

        def actor(nth):
            return actor_of_person(session, rows[nth].id)

        zone = "America/Chicago"
        school = make_organisation(session, actor(0), name="A school", kind="school", time_zone=zone, now=NOW)
        appoint(session, actor(0), school, sign_in_name="instructor", role="instructor", now=NOW)
        group = make_group(session, actor(1), school, name="A class", now=NOW)
        code = open_joining(session, actor(1), group, NOW)
        for nth in range(2, people + 2):
            join(session, actor(nth), code, NOW)
        work = assign(
            session,
            library,
            actor(1),
            group,
            title="Offsets for Thursday",
            families=[FamilyCount(family) for family in FAMILIES],
            due_on=(NOW + timedelta(days=3)).date(),
            edition="2023",
            now=NOW,
        )
        make_sheets(session, library, actor(1), work, NOW)
        return actor(1), work


def once(app, actor, work):
    """The seconds of each part, and the PDF."""
    at = [time.perf_counter()]
    with app.extensions["trainer.database"].read() as session:
        found = work_sheets(session, app.extensions["trainer.library"], actor, work)
    at.append(time.perf_counter())
    with app.test_request_context("http://localhost/"):
        paper = sheets_paper(found, actor)
        at.append(time.perf_counter())
        pdf = typeset(paper, moment=NOW)
    at.append(time.perf_counter())
    return [later - earlier for earlier, later in pairwise(at)], pdf


def main():
    reader = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    reader.add_argument("--people", type=int, default=30)
    reader.add_argument("--times", type=int, default=5)
    wanted = reader.parse_args()
    with tempfile.TemporaryDirectory() as instance:
        settings = settings_from({"TRAINER_INSTANCE": instance})
        upgrade(settings.database)
        app = build(settings)
        actor, work = class_with_work(app, wanted.people)
        runs = [once(app, actor, work) for _ in range(wanted.times)]
    pages = len(PdfReader(BytesIO(runs[0][1])).pages)
    sys.stdout.write(f"{wanted.people} learners, {pages} pages, {len(runs[0][1]) / 1e6:.1f} MB\n")
    for nth, part in enumerate(PARTS):
        sys.stdout.write(f"{part:<40}{median(seconds[nth] for seconds, _ in runs):8.2f} s\n")
    whole = median(sum(seconds) for seconds, _ in runs)
    sys.stdout.write(f"{'in all':<40}{whole:8.2f} s{'*' if whole > AIM else ''}\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
