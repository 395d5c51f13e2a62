"""Commands that make, run and look after a site."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from datetime import UTC, datetime
from typing import Any

import click
from msgspec.structs import replace
from sqlalchemy.exc import DBAPIError

from trainer.accounts.site import make_site
from trainer.accounts.site_key import OtherKeyError, agree_on_key
from trainer.calc.message import InputError
from trainer.cli.serving import refuse_taken_port
from trainer.cli.serving import serve as serve_until_stopped
from trainer.config import Settings, SettingsError, secret_key, settings_from
from trainer.demo import DemoError, build_demo_site
from trainer.library.shelf import Library
from trainer.problems.errors import ContentError
from trainer.problems.shelf import ContentRootError, content_root
from trainer.progress.question_check import count_uncounted
from trainer.records.carry.errors import CarryError
from trainer.records.engine import Database, DatabaseUrlError
from trainer.records.migrate import check_version, upgrade
from trainer.records.revision import DatabaseVersionError
from trainer.text.words import error_text

__all__ = ["demo", "init", "serve"]

LOOPBACK = "127.0.0.1"
DEMO_PORT = 8137
ELSEWHERE = "Name another folder, for example TRAINER_INSTANCE=~/trainer"
WHERE_IT_IS = " Its place is TRAINER_DATABASE (trainer settings shows it); "
OF_FILES = {
    "SQLITE_CANTOPEN": f"{WHERE_IT_IS}the folder has to be there, and you need the right to read and write in it.",
    "SQLITE_READONLY": f"{WHERE_IT_IS}run this as the site's own user, who may write there.",
    "SQLITE_NOTADB": f"{WHERE_IT_IS}what is there is another kind of file.",
    "SQLITE_CORRUPT": " Look what is damaged: trainer check",
    "SQLITE_BUSY": " Another program writes to it for long; try again when that has ended.",
}
"""What to do about each kind of error of SQLite; extended names of errors begin with these."""


@contextmanager
def plain_errors() -> Iterator[None]:
    """Turn what a newcomer may run into into one plain line."""
    try:
        yield
    except InputError as error:
        raise click.ClickException(error_text(error)) from error
    except (SettingsError, DatabaseUrlError, DatabaseVersionError, CarryError) as error:
        raise click.ClickException(str(error)) from error
    except ContentRootError as error:
        raise click.ClickException(f"{error} TRAINER_CONTENT names the folder that holds both.") from error
    except (OtherKeyError, DemoError, ContentError) as error:
        raise click.ClickException(str(error)) from error
    except PermissionError as error:
        raise click.ClickException(f"Cannot write to {error.filename}. {ELSEWHERE}") from error
    except DBAPIError as error:
        reason = str(error.orig).strip().splitlines()[0].rstrip(".")
        kind = getattr(error.orig, "sqlite_errorname", "")
        advice = next((advice for begins, advice in OF_FILES.items() if kind.startswith(begins)), "")
        raise click.ClickException(f"The database cannot be used: {reason}.{advice}") from error


def site_settings() -> Settings:
    """Settings from the environment, with a folder for the site's data that can be written."""
    settings = settings_from(os.environ)
    folder = settings.instance
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    except FileExistsError as error:
        raise click.ClickException(f"{folder} is a file, not a folder. {ELSEWHERE}") from error
    except OSError as error:
        raise click.ClickException(f"{folder} cannot be made: {error.strerror}. {ELSEWHERE}") from error
    if not os.access(folder, os.W_OK | os.X_OK):
        raise click.ClickException(f"Cannot write to {folder}. {ELSEWHERE}")
    return settings


def port_option(default: int) -> Callable[[Any], Any]:
    """The option --port."""
    return click.option(
        "--port", type=click.IntRange(1, 65535), default=default, show_default=True, help="Port to listen on."
    )


@click.command()
@click.option("--administrator", default="administrator", show_default=True, help="Sign-in name of the administrator.")
@click.option(
    "--edition",
    type=click.Choice(["2017", "2020", "2023"]),
    default="2023",
    show_default=True,
    help="Edition of NFPA 70 that new problems follow.",
)
@click.option(
    "--new-key", is_flag=True, help="The key of this host was changed on purpose: it is the site's from now on."
)
def init(administrator: str, edition: str, *, new_key: bool) -> None:
    """Make an empty site, or bring an older one up to date; print a new administrator's one-time password."""
    with plain_errors():
        settings = site_settings()
        # First, as it may be refused: afterwards the one-time password would be lost with it.
        content = Library(content_root(settings.content), checked=False)
        upgrade(settings.database)
        with closing(Database(settings.database)) as database:
            with database.write() as session:
                now = datetime.now(UTC)
                password = make_site(session, administrator=administrator, edition=edition, now=now)
                agree_on_key(session, secret_key(settings), now, as_new=new_key)
            count_uncounted(database, content)
    if password is None:
        click.echo("The site is there already; its tables are up to date and nothing else was changed.")
        return
    click.echo(f"Made an empty site in {settings.instance}.")
    click.echo(f"Sign in as    {administrator}")
    click.echo(f"with password {password}   (works once: the first sign-in asks for a new one)")
    click.echo("Start it with: trainer serve")


@click.command()
@click.option("--host", default=LOOPBACK, show_default=True, help="Address to listen on.")
@port_option(DEMO_PORT)
@click.option("--workers", type=click.IntRange(1, 64), default=2, show_default=True, help="Worker processes.")
def serve(host: str, port: int, workers: int) -> None:
    """Serve the site that `trainer init` made."""
    with plain_errors():
        settings = site_settings()
        check_version(settings.database)
        with closing(Database(settings.database)) as database, database.write() as session:
            agree_on_key(session, secret_key(settings), datetime.now(UTC))
        refuse_taken_port(host, port)
        serve_until_stopped(
            settings, host=host, port=port, workers=workers, when_ready=lambda: click.echo(f"Open http://{host}:{port}")
        )


@click.command()
@port_option(DEMO_PORT)
@click.option("--no-serve", is_flag=True, help="Build the demo site and stop.")
def demo(port: int, no_serve: bool) -> None:
    """Build a site with invented people, once, and serve it on this machine."""
    with plain_errors():
        # Plain http on this machine: a browser would not send secure cookies back. Requests are not logged, so that
        # the sign-ins stay in sight.
        quiet = os.environ.get("TRAINER_LOG_LEVEL", "warning")
        settings = replace(site_settings(), secure_cookies=False, log_level=quiet)
        if not no_serve:
            refuse_taken_port(LOOPBACK, port)
        people = build_demo_site(settings, report=click.echo)

        def say() -> None:
            click.echo(f"\nOpen http://{LOOPBACK}:{port} and sign in; all people and firms in it are invented.\n")
            for person in people:
                click.echo(f"  {person.role:<12} name {person.sign_in_name:<12} password {person.password}")
            click.echo("\nStop it with Ctrl-C; the next start goes on where it was.")

        if no_serve:
            say()
            return
        serve_until_stopped(settings, host=LOOPBACK, port=port, workers=2, when_ready=say)
