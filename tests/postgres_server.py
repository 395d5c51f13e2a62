"""
A throw-away PostgreSQL server for the tests: no port of the machine is used, only a socket in its own folder.

    python tests/postgres_server.py start [FOLDER]      prints the address for TRAINER_TEST_POSTGRES
    python tests/postgres_server.py stop [FOLDER]       stops it and removes the folder

PostgreSQL refuses to run as root; started by root it runs as the user `postgres`.
"""

from __future__ import annotations

import getpass
import os
import shlex
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

__all__ = ["address", "default_folder", "halt", "programs", "start", "stop"]

RUNS_AS = "postgres"
#: Holds against a killed process, which is all that a test does to it, and not against a lost machine.
NOT_DURABLE = "-c fsync=off"
SETTINGS = "-c listen_addresses='' -c max_connections=60"


def default_folder() -> Path:
    """Where the server lives unless told otherwise. Short, since a socket's path may have some 100 characters."""
    return Path(tempfile.gettempdir()) / f"trainer-postgres-{os.getuid()}"


def programs() -> Path:
    """
    The folder of `initdb` and `pg_ctl`: on the search path, or Debian's newest.

    Raises:
        FileNotFoundError: When PostgreSQL is not installed.
    """
    on_path = shutil.which("initdb")
    found = [Path(on_path).parent] if on_path else sorted(Path("/usr/lib/postgresql").glob("*/bin"), key=_version)
    if not found:
        raise FileNotFoundError("PostgreSQL is not installed; on Debian: apt-get install postgresql")
    return found[-1]


def _version(folder: Path) -> float:
    return float(folder.parent.name)


def address(folder: Path) -> str:
    """The address of the server in a folder, for SQLAlchemy."""
    user = RUNS_AS if os.getuid() == 0 else getpass.getuser()
    return f"postgresql+psycopg://{user}@/postgres?host={folder}"


def start(folder: Path, *, durable: bool = False) -> str:
    """
    Start a server that keeps its data in a folder, which is made when missing; one that runs already is left alone.

    Args:
        folder: Its own.
        durable: Whether a commit waits for the disk, as it does on a site: for a measurement.

    Returns:
        Its address; the user in it may create databases.

    Raises:
        FileNotFoundError: When PostgreSQL is not installed.
        CalledProcessError: When the server does not start; its log lies in the folder.
    """
    folder.mkdir(parents=True, exist_ok=True)
    if os.getuid() == 0:
        shutil.chown(folder, RUNS_AS, RUNS_AS)
    folder.chmod(0o700)
    data = folder / "data"
    if not (data / "PG_VERSION").exists():
        _run("initdb", "--pgdata", data, "--auth=trust", "--encoding=UTF8", "--locale=C.UTF-8", "--no-sync")
    if not _runs(data):
        settings = f"{SETTINGS} {'' if durable else NOT_DURABLE} -c unix_socket_directories={folder}"
        _run("pg_ctl", "start", "--pgdata", data, "--log", folder / "log", "--wait", "--options", settings)
    return address(folder)


def stop(folder: Path) -> None:
    """Stop the server of a folder, if it runs, and remove the folder."""
    if _runs(folder / "data"):
        _run("pg_ctl", "stop", "--pgdata", folder / "data", "--mode=fast", "--wait")
    shutil.rmtree(folder, ignore_errors=True)


def halt(folder: Path) -> None:
    """End the server of a folder at once, without a word to who is connected; `start` takes it up again."""
    _run("pg_ctl", "stop", "--pgdata", folder / "data", "--mode=immediate", "--wait")


def _runs(data: Path) -> bool:
    return data.exists() and subprocess.run(_command("pg_ctl", "status", "--pgdata", data), check=False).returncode == 0


def _run(*words: object) -> None:
    subprocess.run(_command(*words), check=True)


def _command(program: str, *arguments: object) -> list[str]:
    """A command line that runs with silenced output, as `postgres` when we are root."""
    line = shlex.join([str(programs() / program), *map(str, arguments)]) + " >/dev/null 2>&1 </dev/null"
    if os.getuid() == 0:
        return ["su", RUNS_AS, "-s", "/bin/sh", "-c", f"cd / && {line}"]
    return ["/bin/sh", "-c", line]


def main(words: list[str]) -> int:
    """Do what the command line says."""
    if not words or words[0] not in {"start", "stop"}:
        sys.stderr.write(__doc__ or "")
        return 2
    folder = Path(words[1]).absolute() if len(words) > 1 else default_folder()
    if words[0] == "stop":
        stop(folder)
    else:
        sys.stdout.write(f"{start(folder)}\n")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
