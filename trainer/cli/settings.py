"""`trainer settings`: every setting with what it does, what it takes, its present value and where that is from."""

from __future__ import annotations

import os

import click

from trainer.config import SettingsError, settings_from, told

__all__ = ["settings"]


@click.command()
def settings() -> None:
    """
    Show every setting: its present value, where that is from, and what it takes. Secrets are not shown.

    The exit status is 1 where a value cannot be used, or where there is no such setting.
    """
    for row, value, source in told(os.environ):
        click.echo(f"{row.name} = {value}   ({source})")
        click.echo(f"    {row.about}.")
        click.echo(f"    Takes {row.accepted}, for example {row.example}. Without it: {row.default}.")
    try:
        settings_from(os.environ)
    except SettingsError as error:
        raise click.ClickException(str(error)) from error
