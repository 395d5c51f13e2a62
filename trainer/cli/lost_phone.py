"""The command for somebody who has lost the phone with the app for codes, and the codes on paper too."""

from __future__ import annotations

from contextlib import closing
from datetime import UTC, datetime

import click

from trainer.accounts.people import person_named
from trainer.accounts.second_factor import clear
from trainer.cli.site import plain_errors, site_settings
from trainer.records.engine import Database
from trainer.records.migrate import check_version

__all__ = ["lost_phone"]


@click.command()
@click.argument("sign_in_name")
def lost_phone(sign_in_name: str) -> None:
    """
    Let SIGN_IN_NAME sign in with the password alone, and end all of that person's sessions.

    For the site administrator, too, whom nobody else can help. The person can read that it was done.
    """
    with plain_errors():
        settings = site_settings()
        check_version(settings.database)
        with closing(Database(settings.database)) as database, database.write() as session:
            person = person_named(session, sign_in_name)
            if person is None:
                raise click.ClickException(f"Nobody signs in as {sign_in_name!r} here; give a sign-in name, as kim.lee")
            was = clear(session, person.id, datetime.now(UTC))
    if was:
        click.echo(f"{person.sign_in_name} signs in with the password alone now, and is signed out everywhere.")
    else:
        click.echo(f"{person.sign_in_name} is asked for no code; nothing was changed.")
