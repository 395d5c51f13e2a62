"""
Measure the memory of one worker of the real server after a thousand requests of every kind.

    python tests/benchmarks/memory.py [--requests N]

A demo site is made and served by `trainer serve` with one worker. Its people open every page that a link leads to, one of
each route first, and papers, exports and photographs too; the apprentice asks for a question of every family in turn,
answers it, and has its steps shown, so that all content is compiled in the worker, which is the worst case. Printed is
the resident memory of the worker at the start and at each quarter, that part of it which it shares with nobody, and the
median time of each kind of request. The aim is 150 MB resident after N = 1,000 requests; a star marks it missed.
"""

from __future__ import annotations

import argparse
import http.client
import os
import re
import signal
import socket
import subprocess
import sys
import tempfile
import time
from collections import defaultdict, deque
from contextlib import closing, suppress
from html import unescape
from itertools import chain, cycle
from pathlib import Path
from statistics import median
from urllib.parse import urlencode, urlsplit

from trainer.config import settings_from
from trainer.demo import build_demo_site
from trainer.web.app import build

AIM = 150.0
LINK = re.compile(r'\bhref="(/[^"#]*)')


class Reader:
    """One person's browser."""

    def __init__(self, port, person):
        self.port, self.person, self.cookies = port, person, {}
        token = field(self.ask("/sign-in")[1], "csrf_token")
        status, _, _ = self.ask(
            "/sign-in", {"csrf_token": token, "sign_in_name": person.sign_in_name, "password": person.password}
        )
        assert status == 303, f"{person.sign_in_name} cannot sign in: {status}"

    def ask(self, path, data=None):
        """Status, text and where it leads to."""
        sent = {"Cookie": "; ".join(f"{name}={value}" for name, value in self.cookies.items())}
        body = None if data is None else urlencode(data)
        if body is not None:
            sent |= {"Content-Type": "application/x-www-form-urlencoded"}
        with closing(http.client.HTTPConnection("127.0.0.1", self.port, timeout=120)) as connection:
            connection.request("GET" if body is None else "POST", path, body, sent)
            answer = connection.getresponse()
            text = answer.read().decode(errors="replace")
        for line in answer.headers.get_all("Set-Cookie") or []:
            name, value = line.split(";")[0].split("=", 1)
            self.cookies[name] = value
        return answer.status, text, answer.headers["Location"]


def field(page, name):
    found = re.search(rf'name="{name}" value="([^"]*)"', page)
    return unescape(found[1]) if found else ""


def pages(reader, routes, seen):
    """Open what links lead to, new routes first; gives each route that was asked for."""
    waiting, later, known = deque(["/"]), deque(), {"/"}
    while waiting or later:
        path = (waiting or later).popleft()
        route = routes(path)
        status, text, leads = reader.ask(path)
        seen[route].append(status)
        yield f"GET {route}"
        for link in chain(map(unescape, LINK.findall(text)), [urlsplit(leads).path] if leads else []):
            if link not in known and not link.startswith(("/static", "/sign-out")):
                known.add(link)
                (later if routes(link) in seen else waiting).append(link)


def answers(reader, families):
    """Ask for a question of each family in turn, answer it, and have its steps shown."""
    for family in cycle(families):
        token = field(reader.ask("/practice")[1], "csrf_token")
        yield "GET learn.practice"
        status, _, leads = reader.ask("/practice", {"csrf_token": token, "family": family})
        yield "POST learn.practice"
        if status != 303:
            continue
        problem = urlsplit(leads).path
        page = reader.ask(problem)[1]
        yield "GET learn.problem"
        form = {"csrf_token": token, "answer_key": field(page, "answer_key")}
        reader.ask(problem, {**form, "answer": "101 ft"})
        yield "POST learn.problem (answer)"
        reader.ask(f"{problem}/steps", {"csrf_token": token})
        yield "POST learn.problem_steps"
        reader.ask(problem)
        yield "GET learn.problem"


def resident(pid):
    """Resident memory of a process, and that part of it which no other process shares [MB]."""
    lines = dict(re.findall(r"^(\w+):\s+(\d+) kB$", Path(f"/proc/{pid}/smaps_rollup").read_text(), re.MULTILINE))
    own = int(lines["Private_Clean"]) + int(lines["Private_Dirty"])
    return int(lines["Rss"]) / 1024, own / 1024


def taking_turns(*streams):
    """One of each in turn, as long as any has something."""
    waiting = deque(streams)
    while waiting:
        stream = waiting.popleft()
        with suppress(StopIteration):
            yield next(stream)
            waiting.append(stream)


def served(folder, port):
    environ = {
        **os.environ,
        "TRAINER_INSTANCE": str(folder),
        "TRAINER_SECURE_COOKIES": "no",
        "TRAINER_LOG_LEVEL": "error",
    }
    command = [sys.executable, "-m", "trainer.cli", "serve", "--port", str(port), "--workers", "1"]
    server = subprocess.Popen(command, env=environ, stdout=subprocess.DEVNULL)
    until = time.monotonic() + 60
    while time.monotonic() < until and server.poll() is None:
        with suppress(OSError), closing(socket.create_connection(("127.0.0.1", port), 1)):
            return server
        time.sleep(0.1)
    raise RuntimeError("the server does not start")


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--requests", type=int, default=1000)
    wanted = parser.parse_args().requests
    with tempfile.TemporaryDirectory() as folder:
        settings = settings_from({"TRAINER_INSTANCE": folder, "TRAINER_SECURE_COOKIES": "no"})
        people = build_demo_site(settings, weeks=1)
        app = build(settings)
        addresses = app.url_map.bind("127.0.0.1")

        def routes(path):
            with suppress(Exception):
                return addresses.match(urlsplit(path).path)[0]
            return "none"

        with closing(socket.socket()) as free:
            free.bind(("127.0.0.1", 0))
            port = free.getsockname()[1]
        server = served(folder, port)
        try:
            report(measured(server, port, people, app, routes, wanted), app)
        finally:
            server.send_signal(signal.SIGTERM)
            server.wait(60)
    return 0


def worker_of(server):
    """The one worker's process, which the server starts a moment after it says that it listens."""
    children = Path(f"/proc/{server.pid}/task/{server.pid}/children")
    while not (found := children.read_text().split()):
        time.sleep(0.01)
    return int(found[0])


def measured(server, port, people, app, routes, wanted):
    worker = worker_of(server)
    seen, took, sizes = defaultdict(list), defaultdict(list), []
    readers = [Reader(port, person) for person in people]
    families = [head.id for head in app.extensions["trainer.library"].heads.values() if head.begins]
    learner = next(reader for reader in readers if reader.person.role == "apprentice")
    sizes.append((len(readers) * 2, *resident(worker)))
    streams = [answers(learner, families), *(pages(reader, routes, seen) for reader in readers)]
    begun = time.perf_counter()
    for nth, kind in enumerate(taking_turns(*streams), start=1):
        took[kind].append(time.perf_counter() - begun)
        if nth % max(1, wanted // 4) == 0:
            sizes.append((nth, *resident(worker)))
        if nth >= wanted:
            break
        begun = time.perf_counter()
    return seen, took, sizes


def report(found, app):
    seen, took, sizes = found
    say = sys.stdout.write
    for kind, times in sorted(took.items(), key=lambda one: -len(one[1]))[:12]:
        say(f"{kind:40}{len(times):6} times, median {median(times) * 1000:7.1f} ms\n")
    gets = {rule.endpoint for rule in app.url_map.iter_rules() if "GET" in rule.methods}
    say(
        f"pages opened: {len(gets & set(seen))} of {len(gets)} routes; not linked to: {', '.join(sorted(gets - set(seen)))}\n"
    )
    failed = {route: statuses for route, statuses in seen.items() if any(status >= 500 for status in statuses)}
    say(f"answers of 500 and above: {failed or 'none'}\n")
    for nth, rss, own in sizes:
        say(f"after {nth:6} requests: {rss:6.1f} MB resident, {own:6.1f} MB of its own\n")
    star = "" if sizes[-1][1] < AIM else "*"
    say(f"worker after all: {sizes[-1][1]:.1f} MB{star} (aim {AIM:.0f})\n")


if __name__ == "__main__":
    sys.exit(main())
