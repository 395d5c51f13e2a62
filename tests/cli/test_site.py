"""trainer init, serve and demo: what a newcomer sees, and the plain line for each thing that stands in the way."""

import os
import re
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from contextlib import closing
from pathlib import Path

import pytest
from alembic.script import ScriptDirectory
from sqlalchemy import text

from trainer.records.engine import Database
from trainer.records.migrate import FOLDER, upgrade


@pytest.fixture
def site(tmp_path):
    """Run the program with a folder of its own; gives back exit status and what was printed."""

    def run(*arguments, **environment):
        return subprocess.run(
            [sys.executable, "-m", "trainer.cli", *arguments],
            env=own_environment(tmp_path / "site", **environment),
            capture_output=True,
            text=True,
            check=False,
        )

    return run


def own_environment(instance, **more):
    kept = {name: value for name, value in os.environ.items() if not name.startswith("TRAINER_")}
    return {**kept, "TRAINER_INSTANCE": str(instance), **more}


def free_port():
    with closing(socket.socket()) as listener:
        listener.bind(("127.0.0.1", 0))
        return listener.getsockname()[1]


def one_line(done):
    """The only line on standard error, without click's prefix."""
    lines = done.stderr.strip().splitlines()
    assert done.returncode == 1, done
    assert len(lines) == 1, done.stderr
    return lines[0]


def test_init_makes_a_site_once_and_says_how_to_sign_in(site):
    first, second = site("init"), site("init")

    assert first.returncode == second.returncode == 0, first.stderr + second.stderr
    assert re.search(r"Sign in as +administrator\nwith password \S{12,}", first.stdout)
    assert "nothing else was changed" in second.stdout


def test_init_says_which_name_it_would_take(site):
    assert "Example: kim.lee" in one_line(site("init", "--administrator", "a b"))


def test_serve_wants_a_site_first(site):
    assert "trainer init" in one_line(site("serve"))


def test_a_taken_port_is_one_plain_line(site):
    with closing(socket.socket()) as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]

        assert f"Port {port} on 127.0.0.1 is taken" in one_line(site("demo", "--port", str(port)))


@pytest.mark.skipif(not Path("/proc/self").is_dir(), reason="needs /proc, a folder in which nobody can write")
def test_a_folder_that_cannot_be_written_is_one_plain_line(site):
    assert "TRAINER_INSTANCE" in one_line(site("demo", "--no-serve", TRAINER_INSTANCE="/proc/trainer"))


def test_a_database_from_a_newer_version_is_one_plain_line(site, tmp_path):
    (tmp_path / "site").mkdir()
    url = f"sqlite:///{tmp_path}/site/trainer.sqlite"
    upgrade(url)
    with closing(Database(url)) as database, database.write() as session:
        session.execute(text("UPDATE alembic_version SET version_num = 'from-the-future'"))

    assert "newer version" in one_line(site("demo", "--no-serve"))
    assert "newer version" in one_line(site("serve"))


def test_the_demo_leaves_a_real_site_alone(site):
    assert site("init").returncode == 0

    assert "real site" in one_line(site("demo", "--no-serve"))


def test_serve_answers_under_the_real_server_and_stops_when_told(site, tmp_path):
    assert site("init").returncode == 0
    port = free_port()
    server = subprocess.Popen(
        [sys.executable, "-m", "trainer.cli", "serve", "--port", str(port)],
        env=own_environment(tmp_path / "site", TRAINER_SECURE_COOKIES="no"),
        stdout=subprocess.PIPE,
        text=True,
    )
    try:
        assert server.stdout.readline().strip() == f"Open http://127.0.0.1:{port}"
        assert answers(port), "the server said that it listens, and did not answer"
        assert answers(port, "?" + "x" * 6000), "the server takes no long address"
    finally:
        server.send_signal(signal.SIGTERM)
        assert server.wait(30) == 0
        server.stdout.close()


def test_the_unit_of_the_example_is_a_server_that_answers_and_is_gone_in_its_time(site, tmp_path):
    """Its own command in its own environment, but for the folder and the port; the signals are those that it names."""
    assert site("init").returncode == 0
    unit = site("example", "systemd").stdout
    told = dict(line.split("=", 1) for line in re.findall(r"^Environment=(.+)$", unit, re.MULTILINE))
    assert told.pop("TRAINER_INSTANCE") == "/var/lib/trainer"
    port = free_port()
    command = re.search(r"^ExecStart=(.+)$", unit, re.MULTILINE)[1].replace("8137", str(port)).split()
    server = subprocess.Popen(command, env=own_environment(tmp_path / "site", **told), stdout=subprocess.DEVNULL)
    try:
        assert answers(port)
    finally:
        server.send_signal(signal.SIGTERM)
        assert server.wait(int(re.search(r"^TimeoutStopSec=(.+)$", unit, re.MULTILINE)[1])) == 0


def answers(port, more=""):
    """Whether /healthz answers; a worker may still be loading."""
    for _ in range(100):
        try:
            with urllib.request.urlopen(f"http://127.0.0.1:{port}/healthz{more}", timeout=5) as answer:
                return answer.status == 200
        except OSError:
            time.sleep(0.1)
    return False


def test_there_is_one_line_of_revisions():
    """Two heads would leave `trainer init` undecided."""
    assert len(ScriptDirectory(str(FOLDER)).get_heads()) == 1


def test_a_host_with_another_key_than_the_site_is_refused_until_it_is_told_that_the_key_is_new(site):
    assert site("init").returncode == 0
    other = {"TRAINER_SECRET_KEY": "a key that another host was given"}

    assert "trainer init --new-key" in one_line(site("init", **other))
    assert "TRAINER_SECRET_KEY" in one_line(site("serve", **other))
    assert site("init", "--new-key", **other).returncode == 0
    assert "another key than the site" in one_line(site("serve"))
