"""The disk runs full, or PostgreSQL is restarted, while a class answers: nothing is lost, and the site recovers alone."""

from __future__ import annotations

import os
import subprocess
import tempfile
import time
from contextlib import contextmanager
from pathlib import Path

import postgres_server
import pytest
from judged import disagreements
from learning import Learner, under_load
from school import made_school
from served import Nursery, Server

from trainer.records.migrate import upgrade

LEARNERS = 3
PATIENCE = 60


@contextmanager
def class_at_work(url, folder):
    """A class of a served site: what happens in the block happens to it; afterwards nothing may be lost or doubled."""
    upgrade(url)
    school = made_school(url, LEARNERS)
    nursery = Nursery(folder, url)
    server = Server(nursery, folder / "log")
    try:
        server.start()
        people = [Learner(school, which, server.port, 7) for which in range(LEARNERS)]
        yield people
        assert list(disagreements(school, people)) == []
        assert "Traceback" not in (folder / "log").read_text()
    finally:
        server.stop()
        nursery.close()
        school.database.close()


def until(reached):
    """Wait for something to be so."""
    end = time.monotonic() + PATIENCE
    while not reached():
        assert time.monotonic() < end
        time.sleep(0.02)


def answered(people):
    return sum(len(learner.acknowledged) for learner in people)


def turned_away(people):
    return sum(learner.browser.unavailable for learner in people)


@pytest.fixture
def small_disk(tmp_path):
    """A disk of its own with a few megabytes, in memory."""
    folder = tmp_path / "disk"
    folder.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", "size=8m", "trainer-test", str(folder)]
    if os.getuid() != 0 or subprocess.run(mount, check=False, capture_output=True).returncode:
        pytest.skip("needs the right to mount a disk")
    yield folder
    subprocess.run(["umount", "--lazy", str(folder)], check=True)


def fill(folder):
    """Write until nothing more goes; the file that takes it all."""
    filler = folder / "filler"
    with filler.open("wb", buffering=0) as stream:
        for size in (1 << 16, 1 << 12, 1):
            try:
                while stream.write(b"x" * size) == size:
                    pass
            except OSError:
                continue
    return filler


def test_a_disk_that_runs_full_under_load_costs_no_answer(small_disk, tmp_path):
    with class_at_work(f"sqlite:///{small_disk / 'trainer.sqlite'}", tmp_path) as people:

        def runs_full():
            until(lambda: answered(people) >= LEARNERS)
            filler = fill(small_disk)
            until(lambda: turned_away(people) >= LEARNERS)
            filler.unlink()
            before = answered(people)
            until(lambda: answered(people) >= before + LEARNERS)

        under_load(people, runs_full)


@pytest.mark.usefixtures("postgres_server")
def test_postgresql_restarted_under_load_costs_no_answer(tmp_path):
    with tempfile.TemporaryDirectory(prefix="trainer-restart-") as name:
        folder = Path(name)
        try:
            with class_at_work(postgres_server.start(folder), tmp_path) as people:
                under_load(people, lambda: restarted(folder, people))
        finally:
            postgres_server.stop(folder)


def restarted(folder, people):
    """At once, as after a fault: it has to repair itself from its log when it starts."""
    until(lambda: answered(people) >= LEARNERS)
    postgres_server.halt(folder)
    until(lambda: turned_away(people) >= LEARNERS)
    postgres_server.start(folder)
    before = answered(people)
    until(lambda: answered(people) >= before + LEARNERS)
