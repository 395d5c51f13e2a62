"""Run the web application under gunicorn, and say in one line why it cannot run."""

from __future__ import annotations

import ctypes
import errno
import gc
import os
import shutil
import socket
import tempfile
import threading
import time
from collections.abc import Callable, Mapping
from contextlib import suppress
from typing import TYPE_CHECKING, Any

import click
from gunicorn.app.base import BaseApplication

from trainer import create_app, load
from trainer.cli.server_log import ServerLog
from trainer.config import Settings
from trainer.problems.errors import ContentError
from trainer.web.metrics import MULTIPROCESS

if TYPE_CHECKING:
    from trainer.library.shelf import Library

__all__ = ["OPTIONS", "compile_ahead", "refuse_taken_port", "serve"]

#: Numbers of mallopt's parameters, from glibc's malloc.h.
_TRIM_THRESHOLD, _MMAP_THRESHOLD, _ARENA_MAX = -1, -3, -8
#: What the server is told, whatever the site.
OPTIONS: Mapping[str, Any] = {
    "worker_class": "sync",
    "loglevel": "warning",
    "proc_name": "trainer",
    "graceful_timeout": 20,
    # Choosing questions sends a field for each of them in the address, where no script leaves the empty ones out; that
    # is more than the 4094 bytes that gunicorn takes of itself. 8190 is the most that it can be told.
    "limit_request_line": 8190,
    "logger_class": ServerLog,
}
#: Told to a version of the server that knows it: nothing is steered by a socket, so none is opened.
IF_KNOWN: Mapping[str, Any] = {"control_socket_disable": True}


def refuse_taken_port(host: str, port: int) -> None:
    """Fail with a plain line when nobody can listen there; gunicorn would try for seconds and print a traceback."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    try:
        with socket.socket(family, socket.SOCK_STREAM) as listener:
            listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            listener.bind((host, port))
    except OSError as error:
        if error.errno == errno.EADDRINUSE:
            reason = f"Port {port} on {host} is taken. Give another one, for example --port {port + 1}."
        elif error.errno == errno.EACCES:
            reason = f"Port {port} needs more rights than you have. Give one above 1023, for example --port 8137."
        else:
            reason = f"Cannot listen on {host} port {port}: {error.strerror}."
        raise click.ClickException(reason) from error


def serve(settings: Settings, *, host: str, port: int, workers: int, when_ready: Callable[[], None]) -> None:
    """
    Serve until stopped.

    Args:
        settings: Of the site.
        host: Address to listen on.
        port: Port to listen on.
        workers: Number of worker processes; each handles one request at a time.
        when_ready: Called once, when the server listens.
    """
    _keep_figures_together(settings)
    _give_memory_back()
    # Before the workers are forked: they start with the program in memory and share it.
    load()
    _refuse_unusable(settings)
    _Server(
        settings,
        {
            **OPTIONS,
            "bind": f"[{host}]:{port}" if ":" in host else f"{host}:{port}",
            "workers": workers,
            # Keeps the workers' heartbeat off a slow disk.
            "worker_tmp_dir": "/dev/shm" if os.access("/dev/shm", os.W_OK) else None,  # noqa: S108 - gunicorn makes the file safely
            "when_ready": lambda _server: when_ready(),
            "post_worker_init": lambda worker: compile_ahead(worker.wsgi.extensions["trainer.library"]),
            "child_exit": _count_out,
            "on_exit": lambda _server: _throw_figures_away(),
        },
    ).run()


def _refuse_unusable(settings: Settings) -> None:
    """
    Raise what no worker could start with: a worker would put it into the log as a fault of the program, and be gone.

    Raises:
        SettingsError, ContentRootError, ContentError: As `provider_of` and `content_of`.
    """
    # They load the pages, which `load` has done by now, where it costs no garbage.
    from trainer.web.content import content_of  # noqa: PLC0415
    from trainer.web.provider import provider_of  # noqa: PLC0415

    try:
        provider_of(settings)
        content_of(settings)
    except (ValueError, OSError):
        _throw_figures_away()
        raise


def compile_ahead(library: Library, *, after: float = 1.0, pause: float = 0.02) -> threading.Thread:
    """
    Have a worker compile the questions beside its requests, one file after another.

    Else an answer would wait for all questions of its skill, a tenth of a second, and on SQLite all other answers with it.

    Args:
        library: The worker's content.
        after: When to begin, so that the pages of a start have the processor for themselves [s].
        pause: Between two files [s].
    """

    def compile_all() -> None:
        time.sleep(after)
        for family in library.families:
            # A file that cannot be used is told to whoever asks for it.
            with suppress(ContentError):
                library.families[family]
            time.sleep(pause)
        # What this made stays to the end, like what `trainer.load` did: else it is looked through for garbage again and again.
        gc.freeze()

    thread = threading.Thread(target=compile_all, name="compile-ahead", daemon=True)
    thread.start()
    return thread


def _give_memory_back() -> None:
    """
    Have the C library give what was freed back to the machine, at once where it is 1 MiB and more.

    A password takes 19 MiB while it is looked at. After the first one glibc would keep as much for the next, and the
    rest of the worker's life goes on above it: 18 MB of each worker. And what compiles ahead shares the one heap.
    """
    with suppress(OSError, AttributeError):  # Another library has no such thing, and keeps to ways of its own.
        change = ctypes.CDLL(None).mallopt
        for parameter in (_TRIM_THRESHOLD, _MMAP_THRESHOLD):
            change(parameter, 2**20)
        change(_ARENA_MAX, 1)


def _keep_figures_together(settings: Settings) -> None:
    """Name the folder in which the workers of this server put their figures; before the library for them is loaded."""
    if settings.metrics_token is not None:
        os.environ[MULTIPROCESS] = tempfile.mkdtemp(prefix="trainer-metrics-")


def _count_out(server: object, worker: Any) -> None:
    """A worker is gone: what it counted stays counted, but it is at work no more."""
    del server
    if MULTIPROCESS in os.environ:
        from prometheus_client.multiprocess import mark_process_dead  # noqa: PLC0415 - only where figures are kept

        mark_process_dead(worker.pid)  # type: ignore[no-untyped-call]


def _throw_figures_away() -> None:
    if MULTIPROCESS in os.environ:
        shutil.rmtree(os.environ.pop(MULTIPROCESS), ignore_errors=True)


class _Server(BaseApplication):  # type: ignore[misc]  # gunicorn carries no types
    """Our application with our options, without reading gunicorn's command line or files."""

    def __init__(self, settings: Settings, options: dict[str, Any]) -> None:
        self._settings = settings
        self._options = options
        super().__init__()

    def load_config(self) -> None:
        """Take over the options."""
        known = {name: value for name, value in IF_KNOWN.items() if name in self.cfg.settings}
        for name, value in {**self._options, **known}.items():
            self.cfg.set(name, value)

    def load(self) -> Any:
        """The application, made anew in each worker: no database connection is shared between processes."""
        return create_app(self._settings)
