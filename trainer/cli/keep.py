"""`trainer backup`, `trainer restore` and `trainer copy-to`: a site's records kept, put back, and carried elsewhere."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import click

import trainer
from trainer.cli.site import plain_errors, site_settings
from trainer.config import KEY_FILE, Settings
from trainer.library.shelf import Library
from trainer.problems.shelf import content_root
from trainer.progress.question_check import count_uncounted
from trainer.records.carry.archive import Manifest, opened
from trainer.records.carry.backup import back_up
from trainer.records.carry.copying import Copied, copy_site
from trainer.records.carry.restore import restore as put_back
from trainer.records.checking.database import any_broken_key
from trainer.records.engine import Database, shown_url
from trainer.records.migrate import head

__all__ = ["backup", "copy_to", "restore"]

BACKUPS = "backups"
#: What people count by, and where it stands.
COUNTED = (
    ("person", "people", "person"),
    ("answer", "answers", "answer"),
    ("hands-on check", "hands-on checks", "hands_on_check"),
)
PHOTOGRAPHS = ("finding_photo", "check_photo")
A_FILE = click.Path(path_type=Path)


@click.command()
@click.argument("file", required=False, type=A_FILE)
def backup(file: Path | None) -> None:
    """
    Write all records of the site, photographs too, into one FILE while the site runs.

    A folder as FILE takes a new file in it. Left out, it is the folder backups/ in the instance folder.
    """
    with plain_errors():
        settings, now = site_settings(), datetime.now(UTC)
        target = _target(settings, file, now)
        files = {name: settings.instance / name for name in _files(settings)}
        manifest = back_up(settings.database, files, target, program_version=trainer.__version__, now=now)
        sound = manifest.revision != head() or not any_broken_key(settings.database)
    click.echo(f"Backed up to {target} ({_size(target)}).")
    _tell(manifest)
    click.echo("Opened again and compared: every count and digest is the same.")
    if not sound:
        click.echo(
            "The site is damaged, and this backup of it as it is cannot be restored: run trainer check. Without the rows "
            "that point nowhere it can: trainer restore --leave-out-orphans.",
            err=True,
        )
    if KEY_FILE not in files:
        click.echo(
            "Not in it: the secret key, which is a setting of yours or not made yet. Second factors need it: keep it too."
        )
    click.echo(
        "Not in it: the settings of the site, and so no password of a database; lessons and questions of your own."
    )
    click.echo("Whoever can read this file can read every record: keep it as safe as the site, on another machine.")
    if not sound:
        raise click.exceptions.Exit(1)


def _target(settings: Settings, file: Path | None, now: datetime) -> Path:
    if file is not None and not file.is_dir():
        return file.absolute()
    folder = file
    if folder is None:
        folder = settings.instance / BACKUPS
        folder.mkdir(mode=0o700, exist_ok=True)
    return folder.absolute() / f"trainer-{now:%Y-%m-%d-%H%M%S}.zip"


def _several(one: str, many: str, count: int) -> str:
    """
    A count with its word.

    >>> _several("person", "people", 1), _several("person", "people", 1200)
    ('1 person', '1,200 people')
    """
    return f"{count:,} {one if count == 1 else many}"


def _size(file: Path) -> str:
    size = file.stat().st_size
    return f"{size / 1e6:,.1f} MB" if size >= 1e6 else f"{size / 1e3:,.0f} kB"


def _files(settings: Settings) -> list[str]:
    """The files of the instance folder that belong to the site; a key that is set is a setting."""
    kept = settings.secret_key is None and (settings.instance / KEY_FILE).is_file()
    return [KEY_FILE] if kept else []


def _tell(manifest: Manifest) -> None:
    counts = [(one, many, manifest.rows(table)) for one, many, table in COUNTED]
    counts.append(("photograph", "photographs", sum(map(manifest.rows, PHOTOGRAPHS))))
    among = ", ".join(_several(*words) for words in counts)
    rows = sum(table.rows for table in manifest.tables)
    files = f"; the file {' and '.join(file.name for file in manifest.files)}" if manifest.files else ""
    click.echo(f"In it: {rows:,} rows of {len(manifest.tables)} tables, among them {among}{files}.")


@click.command()
@click.argument("file", type=A_FILE)
@click.option("--replace", is_flag=True, help="Keep the site that is there aside, and take its place (SQLite).")
@click.option("--look", is_flag=True, help="Only check the backup and say what is in it.")
@click.option(
    "--leave-out-orphans", is_flag=True, help="Leave out rows that point to rows which are not in it, and list them."
)
def restore(file: Path, *, replace: bool, look: bool, leave_out_orphans: bool) -> None:
    """
    Put the backup FILE back, from either kind of database into either, and bring it up to this version of the program.

    There must be no site yet, or --replace. Stop the site first, and start it again afterwards.

    A backup of a damaged site may hold rows that point to lost ones, which no database takes. Where there is no better
    one, --leave-out-orphans puts the others back; keep the backup, which still holds them.
    """
    with plain_errors():
        if look:
            with opened(file) as found:
                found.verify()
            click.echo(
                f"Made {found.manifest.made_at:%Y-%m-%d %H:%M} UTC, by version {found.manifest.program_version}."
            )
            _tell(found.manifest)
            click.echo("Nothing in it is damaged: every count and digest is the same.")
            return
        settings = site_settings()
        done = put_back(
            file,
            settings.database,
            settings.instance,
            replace=replace,
            now=datetime.now(UTC),
            leave_out=leave_out_orphans,
        )
        with closing(Database(settings.database)) as database:
            count_uncounted(database, Library(content_root(settings.content), checked=False))
    click.echo(f"Restored the backup of {done.manifest.made_at:%Y-%m-%d %H:%M} UTC to {shown_url(settings.database)}.")
    _tell(done.manifest)
    if done.left_out:
        _tell_left_out(done.left_out)
    else:
        click.echo("Compared in the database: every count and digest is the same.")
    for kept in done.kept_aside:
        click.echo(f"What was there before is now {kept}")
    click.echo("Everybody signs in again: a sign-in that was ended after the backup stays ended.")


def _tell_left_out(left_out: Mapping[str, frozenset[int]]) -> None:
    click.echo("Left out, since each points to a row that is not in the backup, or to one that was left out for that:")
    for table, ids in sorted(left_out.items()):
        click.echo(f"  {table} {', '.join(map(str, sorted(ids)))}")
    click.echo("Compared in the database: everything else is the same. Now run trainer check.")


@click.command("copy-to")
@click.argument("url")
def copy_to(url: str) -> None:
    """
    Carry the site into the empty database at URL, from SQLite to PostgreSQL or back, and compare both sides.

    Stop the site first: what is answered while it copies is not in the copy. Afterwards set TRAINER_DATABASE to URL.
    """
    with plain_errors():
        settings = site_settings()
        copied = copy_site(settings.database, url)
    _print_table(copied)
    click.echo(f"Copied to {shown_url(url)}; the site as it was is left alone in {shown_url(settings.database)}.")
    if copied.changed:
        click.echo(
            f"The site was used meanwhile ({', '.join(copied.changed)}): that is not in the copy. "
            "Stop the site and copy again, into another empty database.",
            err=True,
        )
        raise click.exceptions.Exit(1)
    click.echo("To use it, set TRAINER_DATABASE to its address and start the site.")


def _print_table(copied: Copied) -> None:
    width = max(map(len, copied.tables))
    click.echo(f"{'table':<{width}}  {'rows':>12}  digest, the same on both sides")
    for name, tally in sorted(copied.tables.items()):
        click.echo(f"{name:<{width}}  {tally.rows:>12,}  {tally.digest[:16]}")
