"""One paper at a time for each person on a host."""

from __future__ import annotations

import subprocess
import sys
from contextlib import contextmanager

import pytest

from trainer.web.papers.turns import FILE, PaperUnderWayError, turn

HOLD = """
import sys
from pathlib import Path
from trainer.web.papers.turns import turn
with turn(Path(sys.argv[1]), int(sys.argv[2])):
    print("held", flush=True)
    sys.stdin.read()
"""


@contextmanager
def another_worker(folder, person_id):
    """Another process that is at a paper of this person; killed at the end, in the midst of it."""
    command = [sys.executable, "-c", HOLD, str(folder), str(person_id)]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as worker:
        assert worker.stdout.readline() == "held\n"
        yield
        worker.kill()


def test_another_worker_has_to_let_go_first_and_holds_up_nobody_else(tmp_path):
    with another_worker(tmp_path, 7):
        with pytest.raises(PaperUnderWayError), turn(tmp_path, 7):
            pass
        with turn(tmp_path, 8):
            pass

    with turn(tmp_path, 7):
        pass
    assert (tmp_path / FILE).stat().st_size == 0


def test_who_asks_for_a_second_paper_meanwhile_is_told_to_wait(app, client_of, world, monkeypatch):
    """The page; what another worker holds is tried above."""
    monkeypatch.setattr("trainer.web.papers.sheet.typeset", lambda *_, **__: b"%PDF-1.7 as if set")
    learner, other = client_of("learner"), client_of("instructor")
    path = next(link for link in learner.get("/lessons").links() if link.startswith("/lessons/")) + ".pdf"

    with another_worker(app.extensions["trainer.settings"].instance, world.people["learner"]):
        page = learner.get(path)
        assert (page.status, page.headers["Retry-After"]) == (429, "5")
        assert "Another paper is being made for you just now." in page.words
        assert other.get(path).status == 200

    assert learner.get(path).status == 200
