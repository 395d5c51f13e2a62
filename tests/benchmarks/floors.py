"""
Measure two requests beside the least that they could cost, turn by turn in one run.

    python tests/benchmarks/floors.py [--times N] [--only sqlite|postgresql]

One answer: the form that a learner sends, judged and put on record, against a bare Flask application that reads one row by
an index, inserts one and commits, through the ORM, in the same transaction and with the same durability (SQLite WAL FULL, and
BEGIN IMMEDIATE; PostgreSQL with synchronous commits and fsync). A lesson's page for a learner who is signed in, against a bare
template of its size. Both run under gunicorn with one worker and are asked in turns over loopback. Printed are
medians in milliseconds, as the client sees them and of the workers' processor, and their ratios; the aims are 3 and 2, and
a star marks one missed.
"""

from __future__ import annotations

import argparse
import http.client
import subprocess
import sys
import tempfile
import time
from contextlib import ExitStack, closing
from dataclasses import dataclass
from pathlib import Path
from statistics import median
from urllib.parse import urlencode

from sqlalchemy import ForeignKey, String, insert, select
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column

sys.path[:0] = [str(Path(__file__).parents[1] / "faults"), str(Path(__file__).parents[1])]

import postgres_server  # noqa: E402 - found by the line above, as those below.
from learning import Browser, Learner, form_of  # noqa: E402
from school import made_school  # noqa: E402
from served import BROKEN, Nursery, Server, free_port, seconds_of  # noqa: E402

from trainer.records.engine import Database  # noqa: E402
from trainer.records.migrate import upgrade  # noqa: E402

AIMS = {"answer": 3.0, "lesson": 2.0}
FAMILY, LESSON = "offset-spacing", "/lessons/offset-bends"
PEOPLE = 5000
ROW = "<tr><th scope='row'>{{ row.name }}</th><td>{{ row.size }}</td><td>{{ row.words }}</td></tr>"


class Base(DeclarativeBase):
    """Two tables of the bare application."""


class Who(Base):
    """Somebody, found by an index."""

    __tablename__ = "bare_who"
    id: Mapped[int] = mapped_column(primary_key=True)
    token: Mapped[str] = mapped_column(String(40), unique=True)


class Said(Base):
    """What somebody said."""

    __tablename__ = "bare_said"
    id: Mapped[int] = mapped_column(primary_key=True)
    who: Mapped[int] = mapped_column(ForeignKey(Who.id), index=True)
    typed: Mapped[str] = mapped_column(String(400))


PAGE = (
    "<!DOCTYPE html><html lang='en'><head><title>{{ title }}</title></head><body><h1>{{ title }}</h1><table>"
    "{% for row in rows %}" + ROW + "{% endfor %}</table></body></html>"
)


def bare_app(url, size):
    """The least that a request could do."""
    from flask import Flask, redirect, render_template, request  # noqa: PLC0415 - as below, loaded in its own process.
    from jinja2 import DictLoader  # noqa: PLC0415

    app, database = Flask("bare"), Database(url)
    app.jinja_loader = DictLoader({"page.html": PAGE})
    Base.metadata.create_all(database.engine)
    with database.write() as session:
        if session.scalar(select(Who.id).limit(1)) is None:
            session.execute(insert(Who), [{"token": f"token-{nth}"} for nth in range(PEOPLE)])
    database.close()
    each = len(ROW) + 20
    rows = [{"name": f"row {nth}", "size": "1/2 EMT", "words": "as it is"} for nth in range(size // each)]

    @app.post("/answer")
    def answer():
        with database.write() as session:
            who = session.scalars(select(Who).where(Who.token == request.form["token"])).one()
            session.add(Said(who=who.id, typed=request.form["answer"]))
        return redirect("/", 303)

    @app.get("/page")
    def page():
        return render_template("page.html", title="Offsets", rows=rows)

    return app


def serve_bare(url, port, size):
    """One worker, as `trainer serve` sets it up."""
    from gunicorn.app.base import BaseApplication  # noqa: PLC0415 - in this process only.

    from trainer.cli.serving import OPTIONS  # noqa: PLC0415

    class Bare(BaseApplication):
        def load_config(self):
            options = {**OPTIONS, "bind": f"127.0.0.1:{port}", "workers": 1, "worker_tmp_dir": "/dev/shm"}  # noqa: S108 - as the site.
            for name, value in options.items():
                self.cfg.set(name, value)

        def load(self):
            return bare_app(url, size)

    Bare().run()


@dataclass
class Timed:
    """Seconds of each request, and the worker's processor's in all."""

    seconds: list
    cpu: float


class Bare:
    """The bare application as a process of its own."""

    def __init__(self, url, size):
        self.port = free_port()
        command = [sys.executable, __file__, "--bare", url, str(self.port), str(size)]
        self._process = subprocess.Popen(command)
        until = time.monotonic() + 60
        while time.monotonic() < until:
            try:
                self.asked("GET", "/page")
                break
            except BROKEN:
                time.sleep(0.05)

    def asked(self, method, path, body=None):
        with closing(http.client.HTTPConnection("127.0.0.1", self.port, timeout=30)) as line:
            line.request(method, path, body, {"Content-Type": "application/x-www-form-urlencoded"} if body else {})
            answer = line.getresponse()
            return answer.status, answer.read()

    def workers(self):
        pid = self._process.pid
        return [int(one) for one in Path(f"/proc/{pid}/task/{pid}/children").read_text().split()]

    def close(self):
        self._process.terminate()
        self._process.wait(30)


def compared(engine, url, folder, times):
    """Both requests, in turns."""
    school = made_school(url, 1, families=(FAMILY,))
    nursery = Nursery(folder, url)
    server = Server(nursery, folder / "log", workers=1)
    server.start()
    learner = Learner(school, 0, server.port, 1)
    size = len(learner.browser.get(LESSON).encode())
    bare = Bare(url if engine == "postgresql" else f"sqlite:///{folder / 'bare.sqlite'}", size)
    try:
        pids = bare.workers(), server.worker_pids()
        told(engine, "answer", *answers(bare, learner, times, pids))
        told(engine, "lesson", *pages(bare, learner.browser, times, pids))
    finally:
        bare.close()
        server.stop()
        nursery.close()
        school.database.close()


def answers(bare, learner, times, pids):
    """A wrong number to an open question; the page that carries the next form is not counted."""
    learner.open_next()
    found = Timed([], 0.0), Timed([], 0.0)
    for turn in range(times + 10):
        form = form_of(learner.browser.get(learner.problem)) | {"answer": str(301 + turn)}
        body = urlencode({"token": f"token-{turn % PEOPLE}", "answer": form["answer"]})
        timed(found[0], pids[0], lambda body=body: bare.asked("POST", "/answer", body)[0], 303)
        timed(found[1], pids[1], lambda form=form: learner.browser.once(learner.problem, urlencode(form))[0], 303)
    return found


def pages(bare, browser: Browser, times, pids):
    found = Timed([], 0.0), Timed([], 0.0)
    for _ in range(times + 10):
        timed(found[0], pids[0], lambda: bare.asked("GET", "/page")[0], 200)
        timed(found[1], pids[1], lambda: browser.once(LESSON)[0], 200)
    return found


def timed(into, pids, ask, status):
    cpu, begun = seconds_of(*pids), time.perf_counter()
    assert ask() == status
    into.seconds.append(time.perf_counter() - begun)
    into.cpu += seconds_of(*pids) - cpu


def told(engine, what, bare, ours):
    walls = [1000 * median(one.seconds[10:]) for one in (bare, ours)]
    cpus = [1000 * one.cpu / len(one.seconds) for one in (bare, ours)]
    ratio = walls[1] / walls[0]
    star = "" if ratio <= AIMS[what] else " *"
    of_cpu = f"processor {cpus[1]:.1f} ms against {cpus[0]:.1f} ms"
    sys.stdout.write(
        f"{engine:11} {what}: {walls[1]:.2f} ms against {walls[0]:.2f} ms, ratio {ratio:.2f}{star} "
        f"(aim {AIMS[what]:.0f}); {of_cpu}, ratio {cpus[1] / max(cpus[0], 1e-9):.2f}\n"
    )
    sys.stdout.flush()


def main():
    reader = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    reader.add_argument("--times", type=int, default=300)
    reader.add_argument("--only", choices=("sqlite", "postgresql"))
    reader.add_argument("--bare", nargs=3, metavar=("URL", "PORT", "SIZE"), help=argparse.SUPPRESS)
    wanted = reader.parse_args()
    if wanted.bare:
        url, port, size = wanted.bare
        serve_bare(url, int(port), int(size))
        return 0
    for engine in ("sqlite", "postgresql"):
        if wanted.only not in (None, engine):
            continue
        with ExitStack() as held:
            folder = Path(held.enter_context(tempfile.TemporaryDirectory(prefix="trainer-floors-")))
            url = f"sqlite:///{folder / 'trainer.sqlite'}"
            if engine == "postgresql":
                server = Path(held.enter_context(tempfile.TemporaryDirectory(prefix="trainer-floors-")))
                held.callback(postgres_server.stop, server)
                url = postgres_server.start(server, durable=True)
            upgrade(url)
            compared(engine, url, folder, wanted.times)
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
