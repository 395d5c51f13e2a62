"""
Measure a full room on `trainer serve` as it sets itself up, on each engine: two workers, plain HTTP over loopback.

    python tests/benchmarks/full_room.py [--learners N] [--late N] [--only sqlite|postgresql]

First 60 learners answer within ten seconds, each at a moment of his own: the question's page, the answer, and the page
that tells what became of it. Then 300 learners, who all have their question open, hand in at the same moment of a last minute.
The aims: no error and nothing lost; of the answers of the first, 95 in 100 are acknowledged within 300 ms; all of the second
are done within 30 s. A star marks one missed. The client's processor time is told apart from the server's; both share
the machine. Every answer is compared with the record at the end.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import threading
import time
from contextlib import ExitStack
from pathlib import Path
from random import Random
from statistics import median, quantiles

sys.path[:0] = [str(Path(__file__).parents[1] / "faults"), str(Path(__file__).parents[1])]

import postgres_server  # noqa: E402 - found by the line above, as those below.
from judged import disagreements  # noqa: E402
from learning import Learner  # noqa: E402
from school import made_school  # noqa: E402
from served import Nursery, Server, seconds_of  # noqa: E402

from trainer.records.migrate import upgrade  # noqa: E402

TEN_SECONDS = 10.0
AIM_P95, AIM_ALL = 0.3, 30.0
#: A family each: the first room answers numbers, a count and a choice, the second hands in one number.
WRONG = "311"


class Room:
    """People at their browsers, each in a thread of his own that sleeps until it is his turn."""

    def __init__(self, school, which, port):
        self.people = [Learner(school, one, port, 1) for one in which]
        self.failed = []

    def all_at(self, moments, what):
        """Let each do something at his moment [s from now]; seconds until the last one was done."""
        begun = time.monotonic() + 0.2

        def one(learner, moment):
            time.sleep(max(0.0, begun + moment - time.monotonic()))
            try:
                what(learner)
            except Exception as error:  # noqa: BLE001 - counted and told.
                self.failed.append(error)

        threads = [
            threading.Thread(target=one, args=(learner, moment))
            for learner, moment in zip(self.people, moments, strict=True)
        ]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        return time.monotonic() - begun

    def measure_from_now(self):
        """What was prepared is forgotten, and whatever fails from now on is an error."""
        for learner in self.people:
            learner.browser.seconds.clear()
            learner.browser.patience = 0

    def times(self, *kinds):
        return sorted(seconds for learner in self.people for kind, seconds in learner.browser.seconds if kind in kinds)


def measured(engine, url, folder, wanted):
    """Both rooms on one site."""
    school = made_school(url, wanted.learners + wanted.late)
    nursery = Nursery(folder, url)
    server = Server(nursery, folder / "log")
    try:
        server.start()
        few = Room(school, range(wanted.learners), server.port)
        many = Room(school, range(wanted.learners, wanted.learners + wanted.late), server.port)
        for room in (few, many):
            room.all_at([nth * 0.02 for nth in range(len(room.people))], Learner.open_next)
        _within_ten_seconds(engine, server, few)
        _last_minute(engine, server, many)
        failed = [*few.failed, *many.failed]
        lost = list(disagreements(school, [*few.people, *many.people]))
        told(engine, "errors, and answers lost or doubled", f"{len(failed)} and {len(lost)}", not failed and not lost)
        for one in [*failed, *lost][:5]:
            sys.stdout.write(f"  {one}\n"[:600])
    finally:
        server.stop()
        nursery.close()
        school.database.close()


def _within_ten_seconds(engine, server, room):
    random = Random(1)
    room.measure_from_now()
    cost = Cost(server)
    room.all_at([random.uniform(0, TEN_SECONDS) for _ in room.people], lambda learner: learner.turn())
    what = f"{len(room.people)} answering within 10 s"
    for name, kinds, aim in (("answer", ("answer",), AIM_P95), ("page", ("page",), None)):
        times = room.times(*kinds)
        p95 = quantiles(times, n=20)[-1]
        numbers = f"median {1000 * median(times):.0f}, p95 {1000 * p95:.0f}, longest {1000 * times[-1]:.0f} ms"
        told(engine, f"{what}: {name}", numbers, aim is None or p95 < aim)
    told(engine, f"{what}: processor", str(cost))


def _last_minute(engine, server, room):
    forms = {}
    room.all_at([nth * 0.02 for nth in range(len(room.people))], lambda one: forms.update({one: one.form()}))
    room.measure_from_now()
    cost = Cost(server)
    seconds = room.all_at([0.0] * len(room.people), lambda learner: learner.hand_in(forms[learner], [WRONG]))
    times = room.times("answer")
    numbers = f"all done in {seconds:.1f} s; median {median(times):.1f}, longest {times[-1]:.1f} s"
    told(engine, f"{len(room.people)} handing in at once", numbers, seconds < AIM_ALL)
    told(engine, f"{len(room.people)} handing in at once: processor", str(cost))


class Cost:
    """Processor's seconds from now on, of the server's processes and of this one."""

    def __init__(self, server):
        self.pids = [server.pid, *server.worker_pids()]
        self.server, self.client = seconds_of(*self.pids), time.process_time()

    def __str__(self):
        return f"server {seconds_of(*self.pids) - self.server:.1f} s, client {time.process_time() - self.client:.1f} s"


def told(engine, what, numbers, holds=True):
    sys.stdout.write(f"{engine:11} {what:45} {numbers}{'' if holds else ' *'}\n")
    sys.stdout.flush()


def main():
    reader = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    reader.add_argument("--learners", type=int, default=60)
    reader.add_argument("--late", type=int, default=300)
    reader.add_argument("--only", choices=("sqlite", "postgresql"))
    wanted = reader.parse_args()
    for engine in ("sqlite", "postgresql"):
        if wanted.only not in (None, engine):
            continue
        with ExitStack() as held:
            folder = Path(held.enter_context(tempfile.TemporaryDirectory(prefix="trainer-room-")))
            url = f"sqlite:///{folder / 'trainer.sqlite'}"
            if engine == "postgresql":
                server = Path(held.enter_context(tempfile.TemporaryDirectory(prefix="trainer-room-")))
                held.callback(postgres_server.stop, server)
                url = postgres_server.start(server, durable=True)
            upgrade(url)
            measured(engine, url, folder, wanted)
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
