"""
Kill the server at random moments under load, again and again, and hold the record against what was acknowledged.

    python tests/faults/kills.py [--kills N] [--learners N] [--seed N] [--only sqlite|postgresql]

Learners answer real questions of assigned work over HTTP; what had no answer is sent again with the same key. One kill in
four takes all processes at once, as when the power goes; the others take one worker. After each kill every learner brings
his answer to its end, and the record is compared: no acknowledged answer missing or doubled, none that nobody sent, each
graded once. At the end, and every fifty kills, all of it is compared, states with a replay and lists of work too.
PostgreSQL is started for the run in a folder of its own. `tests/faults/test_kills.py` is the small form.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from dataclasses import dataclass, field
from pathlib import Path
from random import Random

from judged import Ledger, disagreements
from learning import Learner, under_load
from school import made_school
from served import Nursery, Server

from trainer.records.migrate import upgrade

__all__ = ["KilledError", "Run", "killed_again_and_again"]

ALL_AT_ONCE = 0.25
#: Longest time under load before a kill [s]: some kills come before the workers are up again, some amid answers.
LONGEST = 0.25
COMPARED_WHOLLY_EVERY = 50


class KilledError(AssertionError):
    """Something was lost, doubled or counted wrong."""


@dataclass
class Run:
    """What a run came to."""

    kills: int = 0
    whole: int = 0
    answers: int = 0
    broken: int = 0
    seconds: float = 0.0
    found: list = field(default_factory=list)


def killed_again_and_again(url, folder, *, kills, learners, seed, tell=None):
    """
    Kill so many times on a migrated, empty database.

    Raises:
        KilledError: With what does not agree.
    """
    school, random, run = made_school(url, learners), Random(seed), Run()
    nursery = Nursery(folder, url)
    server = Server(nursery, folder / "log")
    people = [Learner(school, which, server.port, seed) for which in range(learners)]
    ledger, begun = Ledger(school, people), time.monotonic()
    try:
        server.start()
        for nth in range(1, kills + 1):
            _one_kill(server, people, random, run)
            run.answers = sum(len(learner.acknowledged) for learner in people)
            run.broken = sum(learner.browser.broken for learner in people)
            run.seconds = time.monotonic() - begun
            run.found += ledger.disagreements()
            if nth % COMPARED_WHOLLY_EVERY == 0 or nth == kills:
                run.found += disagreements(school, people)
                if tell is not None:
                    tell(run)
            if run.found:
                raise KilledError("\n".join(run.found))
    except AssertionError as error:
        raise KilledError(f"{error}\nThe server said:\n{server.log.read_text()[-5000:]}") from error
    finally:
        server.stop()
        nursery.close()
        school.database.close()
    return run


def _one_kill(server, people, random, run):
    """A kill in the midst of load; one of a worker waits for one to be there."""
    whole = random.random() < ALL_AT_ONCE
    run.kills += 1
    run.whole += whole

    def kill():
        time.sleep(random.uniform(0, LONGEST))
        if whole:
            server.kill()
            server.start()
        else:
            while not server.kill_worker(random.randrange(server.workers)):
                time.sleep(0.01)

    under_load(people, kill)


def main():
    reader = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    reader.add_argument("--kills", type=int, default=1000)
    reader.add_argument("--learners", type=int, default=4)
    reader.add_argument("--seed", type=int, default=1)
    reader.add_argument("--only", choices=("sqlite", "postgresql"))
    wanted = reader.parse_args()
    with tempfile.TemporaryDirectory() as name:
        for engine in ("sqlite", "postgresql"):
            if wanted.only in (None, engine):
                _on(engine, Path(name) / engine, wanted)
    return 0


def _on(engine, folder, wanted):
    sys.path.append(str(Path(__file__).parent.parent))
    import postgres_server  # noqa: PLC0415 - a neighbour of this folder, which only the command wants.

    folder.mkdir()
    server = Path(tempfile.mkdtemp(prefix="trainer-kills-"))
    url = f"sqlite:///{folder / 'trainer.sqlite'}" if engine == "sqlite" else postgres_server.start(server)

    def tell(run):
        line = f"{engine}: {run.kills} kills, {run.whole} of all processes, {run.answers} answers acknowledged"
        sys.stdout.write(f"{line}, {run.broken} times no answer, nothing lost or doubled, {run.seconds:.0f} s\n")
        sys.stdout.flush()

    try:
        upgrade(url)
        killed_again_and_again(url, folder, kills=wanted.kills, learners=wanted.learners, seed=wanted.seed, tell=tell)
    finally:
        postgres_server.stop(server)


if __name__ == "__main__":
    raise SystemExit(main())
