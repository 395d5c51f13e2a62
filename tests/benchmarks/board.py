"""
Measure what a large shop and a long history cost: the boards, and one answer.

    python tests/benchmarks/board.py [--people N] [--answers N] [--times N] [--only board|answer]

The boards of a crew and of a whole shop with 500 people, each with 20 skills, and 12 job types, against the same with 10
people; and one answer beside 1,000,000 stored answers against the same answer beside none. Rows are made in bulk. Printed
are medians of the processor's seconds, in turns in one process, the number of statements, and the ratio; the aims are 1.3
and 1.1, and a star marks one that is missed. A board is measured as it is read again and again; beside it stands what it
costs the first time, when everybody has to be worked out and the site has just been started. Nothing here is timed by a test;
`tests/groups/test_boards_of_many.py` holds the number of statements.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from statistics import median
from uuid import uuid4

from board_rows import add_answers, add_shop
from msgspec.structs import replace
from sqlalchemy import event, text

from trainer.accounts.passwords import CHEAP_PASSWORDS
from trainer.accounts.sessions import open_session
from trainer.accounts.site import make_site
from trainer.calc.length import write_length
from trainer.config import settings_from
from trainer.library.shelf import Library
from trainer.library.versions import pin
from trainer.problems.shelf import content_root
from trainer.progress.answering import answer
from trainer.progress.issue import issue
from trainer.progress.sitting import sit_down
from trainer.records.engine import Database
from trainer.records.migrate import upgrade
from trainer.records.models import Person
from trainer.web.app import build

AIMS = {"board": 1.3, "answer": 1.1}
SKILLS, JOBS, FEW = 20, 12, 10
FAMILY, EACH = "offset-spacing", 500


@dataclass
class Site:
    """A site in a folder of its own: its records, its application, its owner's cookie and the addresses of his boards."""

    database: Database
    app: object
    token: str
    boards: dict


def made(folder, library, people, now):
    """A site with a shop of so many people."""
    folder.mkdir()
    settings = replace(settings_from({"TRAINER_INSTANCE": str(folder)}), secure_cookies=False, log_level="error")
    upgrade(settings.database)
    skills = [skill for skill in library.skills if library.families_of(skill)][:SKILLS]
    app = build(settings, passwords=CHEAP_PASSWORDS)
    database = app.extensions["trainer.database"]
    with database.write() as session:
        make_site(session, administrator="administrator", edition="2023", now=now - timedelta(days=300))
        owner, shop, crew = add_shop(session, people=people, skills=skills, jobs=JOBS, now=now)
        token, _ = open_session(session, owner, "benchmark", now)
    boards = {"board of a crew": f"/groups/{crew}/board", "board of a shop": f"/organisations/{shop}/board"}
    return Site(database, app, token, boards)


def fetched(site, path):
    """Processor's seconds of one page, and how many statements it took."""
    client, statements = site.app.test_client(), []
    client.set_cookie("trainer-reader", site.token)

    def note(*arguments):
        statements.append(arguments[2])

    event.listen(site.database.engine, "before_cursor_execute", note)
    begun = time.process_time()
    page = client.get(path)
    seconds = time.process_time() - begun
    event.remove(site.database.engine, "before_cursor_execute", note)
    assert page.status_code == 200, (page.status_code, path)
    return seconds, len([one for one in statements if not one.startswith(("PRAGMA", "BEGIN"))])


def compare_boards(folder, library, people, times, now):
    """The boards of many and of few, in turns."""
    few, many = (made(folder / str(number), library, number, now) for number in (FEW, people))
    for name in few.boards:
        fresh = [fetched(site, site.boards[name])[0] for site in (few, many)]
        turns = [(fetched(few, few.boards[name]), fetched(many, many.boards[name])) for _ in range(times + 2)][2:]
        seconds = [median(turn[which][0] for turn in turns) for which in (0, 1)]
        statements = [turns[-1][which][1] for which in (0, 1)]
        first = f"{1000 * fresh[1]:.0f} ms against {1000 * fresh[0]:.0f} ms"
        more = f"{statements[1]} and {statements[0]} statements; the first time {first}"
        told(f"{name}, {people} people against {FEW}", seconds, AIMS["board"], more)


def compare_answers(folder, library, answers, times, now):
    """One answer in a site with many stored answers and in one with none, in turns."""
    sites = []
    for stored in (0, answers):
        url = f"sqlite:///{folder / f'{stored}.sqlite'}"
        upgrade(url)
        database = Database(url)
        with database.write() as session:
            person = Person(sign_in_name="lena", display_name="Lena", created_at=now)
            session.add(person)
            session.flush()
            key, version = person.id, pin(session, library.families[FAMILY], now)
            if stored:
                of_whom = {"people": max(1, stored // EACH), "each": EACH, "skill": library.families[FAMILY].skill}
                add_answers(session, **of_whom, family_id=FAMILY, version_id=version, now=now)
        with database.write() as session:
            session.execute(text("ANALYZE"))
        sites.append((database, key))
    turns = [
        [answered(database, library, key, now + timedelta(minutes=turn)) for database, key in sites]
        for turn in range(times + 2)
    ]
    seconds = [median(turn[which] for turn in turns[2:]) for which in (0, 1)]
    told(f"one answer beside {answers} stored ones against none", seconds, AIMS["answer"], "")


def answered(database, library, key, now):
    """Processor's seconds of one right answer, its transaction included."""
    with database.write() as session:
        problem = issue(session, library, key, family_id=FAMILY, now=now, edition="2023")
    with database.read() as session:
        typed = write_length(sit_down(session, library, key, problem).problem.keys[0].value)
    begun = time.process_time()
    with database.write() as session:
        result = answer(session, library, key, problem, typed, answer_key=str(uuid4()), now=now)
    seconds = time.process_time() - begun
    assert result.verdict == "right"
    return seconds


def told(what, seconds, aim, more):
    ratio = seconds[1] / seconds[0]
    star = "" if ratio <= aim else "*"
    thousandths = f"{1000 * seconds[1]:8.1f} ms against {1000 * seconds[0]:.1f} ms"
    sys.stdout.write(f"{what:55}{thousandths}, ratio {ratio:.2f}{star} (aim {aim})  {more}\n")


def main():
    reader = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    reader.add_argument("--people", type=int, default=500)
    reader.add_argument("--answers", type=int, default=1_000_000)
    reader.add_argument("--times", type=int, default=15)
    reader.add_argument("--only", choices=("board", "answer"))
    wanted = reader.parse_args()
    now, library = datetime.now(UTC), Library(content_root(None))
    with tempfile.TemporaryDirectory() as name:
        if wanted.only != "answer":
            compare_boards(Path(name), library, wanted.people, wanted.times, now)
        if wanted.only != "board":
            compare_answers(Path(name), library, wanted.answers, wanted.times, now)
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
