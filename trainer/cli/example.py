"""`trainer example`: files for running a site under systemd and behind nginx, to be saved and read through."""

from __future__ import annotations

import re
import sys
from pathlib import Path

import click

__all__ = ["example"]

FOLDER = Path(__file__).parent / "examples"
HOST_NAME = re.compile(r"(?!-)[A-Za-z0-9-]+(\.[A-Za-z0-9-]+)*")
PLACE = re.compile(r"(\[[0-9a-fA-F:]+\]|[A-Za-z0-9.-]+):[0-9]{1,5}")
#: Folders that systemd can hide from a program; one that is installed there has to be seen.
HOMES = ("/home/", "/root/", "/run/user/")


@click.group()
def example() -> None:
    """Print a file to begin with; each says in its first lines where it goes."""


@example.command()
def systemd() -> None:
    """Print a systemd unit that runs this very installation."""
    click.echo(_unit("trainer.service"), nl=False)


@example.command()
def tidy() -> None:
    """Print a systemd unit that tidies the site once."""
    click.echo(_unit("trainer-tidy.service"), nl=False)


@example.command()
def timer() -> None:
    """Print a systemd timer that starts it every night."""
    click.echo(_filled("trainer-tidy.timer"), nl=False)


@example.command()
@click.option("--name", default="training.example.org", show_default=True, help="Host name of the site.")
@click.option(
    "--server",
    "servers",
    multiple=True,
    default=["127.0.0.1:8137"],
    show_default=True,
    help="Address and port of an app server; once for each.",
)
def nginx(name: str, servers: tuple[str, ...]) -> None:
    """Print an nginx site in front of one or several app servers."""
    if not HOST_NAME.fullmatch(name):
        raise click.ClickException(f"{name!r} is no host name. Example: --name training.example.org")
    for server in servers:
        if not PLACE.fullmatch(server):
            raise click.ClickException(f"{server!r} is no address with a port. Example: --server 192.0.2.12:8137")
    lines = "\n".join(f"    server {server} max_fails=1 fail_timeout=5s;" for server in servers)
    # Imported here: the limit stands with the photographs.
    from trainer.web.photos import MOST_READ  # noqa: PLC0415

    click.echo(_filled("nginx.conf", NAME=name, SERVERS=lines, MEGABYTES=str(-(-MOST_READ // 2**20))), nl=False)


def _unit(file: str) -> str:
    program = Path(sys.executable).with_name("trainer")
    return _filled(file, PROGRAM=str(program), HOME="read-only" if str(program).startswith(HOMES) else "yes")


def _filled(file: str, **values: str) -> str:
    text = (FOLDER / file).read_text(encoding="utf-8")
    for name, value in values.items():
        text = text.replace(f"@{name}@", value)
    return text
