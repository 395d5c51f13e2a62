"""`trainer tidy`: what a site holds for a while only is removed when its time is over."""

from __future__ import annotations

from contextlib import closing
from datetime import UTC, datetime, timedelta

import click

from trainer.accounts.keeping import Keeping
from trainer.accounts.sessions import SignInLife
from trainer.accounts.tidying import Tidied, look
from trainer.accounts.tidying import tidy as remove
from trainer.cli.site import plain_errors, site_settings
from trainer.config import Settings
from trainer.records.engine import Database
from trainer.records.migrate import check_version

__all__ = ["keeping_of", "tidy"]

#: What the rows of each kind are, in words.
WORDS = {
    "sign-ins": "sign-ins that ended more than {ended} ago",
    "half-sign-ins": "sign-ins whose code never came",
    "unfinished-apps": "apps for codes that were begun more than {ended} ago and never set up to the end",
    "calendars": "addresses for calendar programs that ended more than {ended} ago",
    "guesses": "counts of wrong guesses that are empty by now",
    "looks": "notes who looked at whose record, older than {looks}",
    "notes": "other notes of who did what, older than {log}",
}


@click.command()
@click.option("--look", "only_look", is_flag=True, help="Only say what would be removed.")
def tidy(*, only_look: bool) -> None:
    """
    Remove what the site holds for a while only and whose time is over, while people work.

    How long, TRAINER_SIGN_IN_IDLE, TRAINER_KEEP_ENDED, TRAINER_KEEP_LOOKS and TRAINER_KEEP_LOG say. Answers, what they
    were judged to be, evidence, and the notes that belong to a record are never removed. Where something was removed,
    a line in the audit log says so. In a backup that was made before, it is still there.
    """
    with plain_errors():
        settings, now = site_settings(), datetime.now(UTC)
        check_version(settings.database)
        with closing(Database(settings.database)) as database:
            if only_look:
                with database.read() as session:
                    found = look(session, keeping_of(settings), now)
            else:
                found = remove(database, keeping_of(settings), now)
    _tell(found, settings, "Would remove" if only_look else "Removed")


def keeping_of(settings: Settings) -> Keeping:
    """How long a site with these settings keeps what passes."""
    life = SignInLife(settings.sign_in_idle, settings.sign_in_longest, settings.keep_ended)
    return Keeping(life, settings.keep_looks, settings.keep_log)


def _tell(found: list[Tidied], settings: Settings, did: str) -> None:
    spans = {"ended": settings.keep_ended, "looks": settings.keep_looks, "log": settings.keep_log}
    told = {name: _days(span) for name, span in spans.items() if span is not None}
    width = max(len(one.table) for one in found)
    for one in found:
        click.echo(f"{one.rows:>9,}  {one.table:<{width}}  {WORDS[one.kind].format(**told)}")
    click.echo(f"{did} {sum(one.rows for one in found):,} rows.")
    for kind, span in (("looks", settings.keep_looks), ("notes", settings.keep_log)):
        if span is None:
            click.echo(f"Kept without end: {WORDS[kind].partition(',')[0]}.")


def _days(span: timedelta) -> str:
    hours = span // timedelta(hours=1)
    count, unit = (hours, "hour") if hours % 24 else (hours // 24, "day")
    return f"{count:,} {unit}{'' if count == 1 else 's'}"
