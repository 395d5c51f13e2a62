"""
Measure what a state's year costs one class: each page of its people, beside 20,000 others with 5,000,000 answers and alone.

    python tests/benchmarks/growth.py [--people N] [--times N] [--only sqlite|postgresql] [--processor]

A class of 30 is made through the use cases, its site is copied, and into the copy others are written in bulk with 250 answers
each (`growth_rows.py`); the default is a tenth of the whole, --people 20000 is all of it and takes some 6 GB of disk. Then each
page of a learner, an instructor, and the site's administrator is fetched from both, in turns in one process. Printed
are medians of the time that each takes, the ratio, and the number of statements where it differs; the aim is 1.3, and a star
marks one that is missed by more than 2 ms. With --processor it is the time of the processor, which says the same of SQLite on a
machine that does other things too; of PostgreSQL it leaves out what its server does. Nothing here is a test.
"""

from __future__ import annotations

import argparse
import re
import shutil
import sys
import tempfile
import time
from contextlib import ExitStack
from pathlib import Path
from statistics import median

from msgspec.structs import replace
from sqlalchemy import create_engine, event, make_url, select, text

sys.path[:0] = [str(Path(__file__).parents[1] / "faults"), str(Path(__file__).parents[1])]

import postgres_server  # noqa: E402 - found by the line above, as those below.
from growth_rows import EACH, add_state  # noqa: E402
from learning import FIELD, form_of  # noqa: E402
from school import FAMILIES, library, made_school, right_answer  # noqa: E402

from trainer.accounts.sessions import open_session  # noqa: E402
from trainer.config import settings_from  # noqa: E402
from trainer.progress.question_check import count_whole  # noqa: E402
from trainer.records.engine import Database  # noqa: E402
from trainer.records.migrate import upgrade  # noqa: E402
from trainer.records.models import ContentVersion, Person  # noqa: E402
from trainer.web.app import build  # noqa: E402
from trainer.web.transactions import utc_now  # noqa: E402

AIM, NOTHING = 1.3, 0.002
LEARNERS, ANSWERING = 30, 12
START = {
    "learner": ["/today", "/practice", "/record", "/work", "/lessons", "/account", "/hours", "/jobs"],
    "instructor": ["/groups"],
    "administrator": ["/site", "/keys", "/questions"],
}
#: Pages that lead on, by what their addresses begin with; not what sends a file, ends something, or is somebody's password.
LEADS = re.compile(r'href="(/(?:work|problems|groups|given|people|record|organisations|site|keys|questions)[^"#?]*)"')
NOT_PAGES = re.compile(r"\.(?:pdf|csv|xlsx|ics)$|/static/|sign-out|/withdraw|/leave|/sample")
MOST_ALIKE = 3


class Browser:
    """A signed-in client of an application, which counts statements."""

    def __init__(self, app, token, clock):
        self.clock = clock
        self.client, self.engine = app.test_client(), app.extensions["trainer.database"].engine
        self.client.set_cookie("trainer-reader", token)

    def fetched(self, path):
        """Status, text, seconds and statements of a page."""
        sent = []

        def note(*arguments):
            sent.append(arguments[2])

        event.listen(self.engine, "before_cursor_execute", note)
        begun = self.clock()
        page = self.client.get(path)
        seconds = self.clock() - begun
        event.remove(self.engine, "before_cursor_execute", note)
        statements = len([one for one in sent if not one.startswith(("PRAGMA", "BEGIN", "SET"))])
        return page.status_code, page.text if page.mimetype == "text/html" else "", seconds, statements


def small_site(url, folder):
    """The class, and what some of its learners answered to each line of their work."""
    upgrade(url)
    school = made_school(url, LEARNERS)
    app = application(url, folder)
    for learner in school.learners[:ANSWERING]:
        client = app.test_client()
        client.set_cookie("trainer-reader", learner.token)
        token = re.search(FIELD.format("csrf_token"), client.get(f"/work/{school.work}").text)[1]
        for line in range(1, len(FAMILIES) + 1):
            opened = client.post(f"/work/{school.work}/{line}", data={"csrf_token": token})
            problem = opened.headers["Location"]
            typed = right_answer(school.database, learner.person_id, problem.rpartition("/")[2])
            for answer in (["311"], typed):
                page = client.get(problem).text
                if 'name="answer_key"' in page:
                    client.post(problem, data=form_of(page) | {"answer": answer})
    tokens = {"learner": school.learners[0].token}
    with school.database.write() as session:
        for who in ("instructor", "administrator"):
            person = session.scalars(select(Person).where(Person.sign_in_name == who)).one()
            person.must_change_password = False
            tokens[who], _ = open_session(session, person.id, "a browser", utc_now())
    app.extensions["trainer.database"].close()
    school.database.close()
    return tokens


def application(url, folder):
    settings = settings_from({"TRAINER_INSTANCE": str(folder), "TRAINER_DATABASE": str(url)})
    return build(replace(settings, secure_cookies=False, log_level="error"))


def pages_of(browser, starts):
    """The addresses that one gets to, a few of each kind."""
    found, alike, waiting = [], {}, [*starts]
    while waiting:
        path = waiting.pop(0)
        kind = re.sub(r"/[\w-]{22}", "/*", path)
        if path in found or alike.get(kind, 0) >= MOST_ALIKE or NOT_PAGES.search(path):
            continue
        status, page, _, _ = browser.fetched(path)
        if status != 200 or not page:
            continue
        alike[kind] = alike.get(kind, 0) + 1
        found.append(path)
        waiting += LEADS.findall(page)
    return found


def compared(engine, urls, folder, tokens, times, clock):
    """Each page on both sites, in turns."""
    apps = [application(url, folder) for url in urls]
    missed = 0
    for who, token in tokens.items():
        browsers = [Browser(app, token, clock) for app in apps]
        for path in pages_of(browsers[0], START[who]):
            turns = [[browser.fetched(path) for browser in browsers] for _ in range(times + 1)][1:]
            assert {one[0] for turn in turns for one in turn} == {200}, path
            few, many = (median(turn[which][2] for turn in turns) for which in (0, 1))
            counts = [turns[-1][which][3] for which in (0, 1)]
            star = " *" if many > AIM * few and many - few > NOTHING else ""
            missed += bool(star)
            more = f"  statements {counts[0]} and {counts[1]}" if counts[0] != counts[1] else ""
            kind = re.sub(r"/[\w-]{22}", "/…", path)
            sys.stdout.write(
                f"{engine:11} {who:14} {kind:42} {1000 * many:7.1f} ms against {1000 * few:6.1f}, "
                f"ratio {many / few:.2f}{star}{more}\n"
            )
            sys.stdout.flush()
    sys.stdout.write(f"{engine}: {missed} pages above {AIM}\n")
    sys.stdout.flush()


def main():
    reader = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    reader.add_argument("--people", type=int, default=2000)
    reader.add_argument("--times", type=int, default=7)
    reader.add_argument("--only", choices=("sqlite", "postgresql"))
    reader.add_argument("--processor", action="store_true")
    wanted = reader.parse_args()
    clock = time.process_time if wanted.processor else time.perf_counter
    for engine in ("sqlite", "postgresql"):
        if wanted.only not in (None, engine):
            continue
        with ExitStack() as held:
            folder = Path(held.enter_context(tempfile.TemporaryDirectory(prefix="trainer-growth-")))
            urls, copied = sites(engine, folder, held)
            tokens = small_site(urls[0], folder)
            copied()
            begun, database = time.monotonic(), Database(urls[1])
            add_state(database, library(), people=wanted.people, now=utc_now())
            with database.read() as session:
                answered = session.scalars(select(ContentVersion.rules_hash).distinct()).all()
            count_whole(database, library(), answered)
            database.close()
            told = f"{wanted.people} people and {wanted.people * EACH} answers written"
            sys.stdout.write(f"{engine}: {told} in {time.monotonic() - begun:.0f} s\n")
            compared(engine, urls, folder, tokens, wanted.times, clock)
    return 0


def sites(engine, folder, held):
    """Addresses of the small and the large site, and what copies the one to the other."""
    if engine == "sqlite":
        files = [folder / "small.sqlite", folder / "large.sqlite"]
        return [f"sqlite:///{file}" for file in files], lambda: shutil.copyfile(*files)
    server = Path(held.enter_context(tempfile.TemporaryDirectory(prefix="trainer-growth-")))
    held.callback(postgres_server.stop, server)
    address = make_url(postgres_server.start(server))

    def on_server(statement):
        made = create_engine(address, isolation_level="AUTOCOMMIT")
        with made.connect() as connection:
            connection.execute(text(statement))
        made.dispose()

    on_server("CREATE DATABASE small")
    urls = [address.set(database=name).render_as_string(hide_password=False) for name in ("small", "large")]
    return urls, lambda: on_server("CREATE DATABASE large TEMPLATE small")


if __name__ == "__main__":
    raise SystemExit(main())
