"""
`trainer serve` as a process of its own, to be killed and started again.

To start hundreds of times, a nursery has the program in memory and forks: what runs in the child is the command itself,
with its master and its workers, in a session of its own, so that one signal reaches all of it.
"""

from __future__ import annotations

import contextlib
import http.client
import os
import signal
import socket
import subprocess
import sys
import time
from pathlib import Path

__all__ = ["BROKEN", "Nursery", "Server", "free_port", "seconds_of"]

#: What a browser meets when the line breaks before the answer is there.
BROKEN = (OSError, http.client.HTTPException)
PATIENCE = 60

#: The nursery: a line "PORT LOG" starts a server and is answered with its process id; children are reaped as they die.
NURSERY = """
import os, signal, sys
import trainer
trainer.load()
import trainer.cli.site, gunicorn.arbiter, gunicorn.workers.sync, gunicorn.glogging
import trainer.records.migrate
with __import__("contextlib").suppress(ImportError):
    import psycopg, sqlalchemy.dialects.postgresql.psycopg
signal.signal(signal.SIGCHLD, signal.SIG_IGN)
child = 0
for line in sys.stdin:
    port, workers, log = line.rstrip("\\n").split(" ", 2)
    child = os.fork()
    if child:
        print(child, flush=True)
        continue
    os.setsid()
    signal.signal(signal.SIGCHLD, signal.SIG_DFL)
    held = os.open(log, os.O_WRONLY | os.O_CREAT | os.O_APPEND)
    for stream in (1, 2):
        os.dup2(held, stream)
    os.dup2(os.open(os.devnull, os.O_RDONLY), 0)
    trainer.cli.site.serve.main(["--port", port, "--workers", workers], prog_name="trainer serve")
# Whoever wanted the server is gone.
with __import__("contextlib").suppress(ProcessLookupError):
    child and os.killpg(child, signal.SIGKILL)
"""


def free_port():
    """A port of this machine that nobody listens on."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        return free.getsockname()[1]


class Nursery:
    """
    Forks servers of one site.

    Args:
        instance: Folder of the site.
        database: Address of its database.
        settings: Further variables.
    """

    def __init__(self, instance, database, **settings):
        environ = {name: value for name, value in os.environ.items() if not name.startswith("TRAINER_")}
        environ |= {"TRAINER_INSTANCE": str(instance), "TRAINER_DATABASE": str(database)}
        environ |= {"TRAINER_SECURE_COOKIES": "no", "TRAINER_LOG_LEVEL": "warning"} | settings
        command = [sys.executable, "-c", NURSERY]
        pipe = subprocess.PIPE
        self._process = subprocess.Popen(command, env=environ, stdin=pipe, stdout=pipe, text=True, bufsize=1)

    def fork(self, port, log, workers=2):
        """Start a server; its process id, which is its group's too."""
        self._process.stdin.write(f"{port} {workers} {log}\n")
        return int(self._process.stdout.readline())

    def close(self):
        """Start no more."""
        self._process.stdin.close()
        self._process.wait(PATIENCE)
        self._process.stdout.close()


class Server:
    """
    A server of a site on a port of its own.

    Args:
        nursery: Where it comes from.
        log: File for what it says.
        workers: How many worker processes it has.
    """

    def __init__(self, nursery, log, workers=2):
        self._nursery, self.log, self.workers = nursery, Path(log), workers
        self.port = free_port()
        self.pid = None

    def start(self):
        """Start it, and wait until it answers."""
        self.pid = self._nursery.fork(self.port, self.log, self.workers)
        until = time.monotonic() + PATIENCE
        while time.monotonic() < until:
            with contextlib.suppress(*BROKEN):
                if self.status("/healthz") is not None:
                    return
            time.sleep(0.01)
        raise TimeoutError(self.log.read_text())

    def status(self, path):
        """The status of a page for nobody."""
        line = http.client.HTTPConnection("127.0.0.1", self.port, timeout=PATIENCE)
        try:
            line.request("GET", path)
            return line.getresponse().status
        finally:
            line.close()

    def kill(self):
        """Master and workers at once, as when the power goes."""
        until = time.monotonic() + PATIENCE
        while time.monotonic() < until:
            try:
                os.killpg(self.pid, signal.SIGKILL)
            except ProcessLookupError:
                self.pid = None
                return
            time.sleep(0.002)
        raise TimeoutError("killed processes are still there")

    def kill_worker(self, nth):
        """One worker, as when memory runs out; its master starts another. Nothing happens where none is up yet."""
        workers = self.worker_pids()
        if workers:
            with contextlib.suppress(ProcessLookupError):
                os.kill(workers[nth % len(workers)], signal.SIGKILL)
        return bool(workers)

    def worker_pids(self):
        """The processes of its workers."""
        return [int(one) for one in Path(f"/proc/{self.pid}/task/{self.pid}/children").read_text().split()]

    def stop(self):
        """End it, if it runs."""
        if self.pid is not None:
            self.kill()


def seconds_of(*pids):
    """Processor's seconds of processes so far."""
    ticks = 0
    for pid in pids:
        after_name = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
        ticks += int(after_name[11]) + int(after_name[12])
    return ticks / os.sysconf("SC_CLK_TCK")
