"""A backup put back: into an empty database, or into a new SQLite file that then takes the old one's place."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from pathlib import Path

from msgspec import Struct
from sqlalchemy import URL, Connection, delete, update
from sqlalchemy.exc import DatabaseError

from trainer.records.carry.archive import Backup, Manifest, TableEntry, opened
from trainer.records.carry.errors import CarryError
from trainer.records.carry.filling import fill, filled_at_once, set_sequences
from trainer.records.carry.orphans import orphans, without
from trainer.records.carry.places import move_aside, new_sqlite_file, write_file
from trainer.records.carry.reading import Tally, lines_of, tallied, tally_of
from trainer.records.carry.tables import shapes_of
from trainer.records.engine import shown_url, sqlite_file
from trainer.records.migrate import check_version, revisions
from trainer.records.models import HalfSignIn, SignInSession
from trainer.records.revision import DatabaseVersionError

__all__ = ["Restored", "restore"]


class Restored(Struct, frozen=True):
    """
    What was done.

    Args:
        manifest: What was in the backup.
        kept_aside: What was there before, under its new name.
        left_out: Ids by table of rows that point to rows which are not in the backup.
    """

    manifest: Manifest
    kept_aside: tuple[Path, ...]
    left_out: Mapping[str, frozenset[int]]


def restore(
    file: Path, url: str | URL, instance: Path, *, replace: bool, now: datetime, leave_out: bool = False
) -> Restored:
    """
    Put a backup back, in one transaction, and bring its tables up to this version of the program.

    Counts and digests are compared before anything is written, and again in the database before it is committed.
    Sign-ins that were open are ended: one of them may have been ended after the backup, for a reason.

    Args:
        file: The backup.
        url: Where the records go: the engine need not be the one that they come from.
        instance: Where the files go.
        replace: Whether a site in an SQLite file is moved aside to make room; else it must be empty.
        now: This moment.
        leave_out: Whether rows that point to rows which are not in the backup are left out; else they prevent it.

    Raises:
        CarryError: When the backup is damaged or newer than the program, or there is a site already; nothing was changed.
    """
    with opened(file) as backup:
        if backup.manifest.revision not in revisions():
            raise CarryError(
                f"{file} is from a newer version of the program (its tables are at {backup.manifest.revision}). "
                "Install the newer version, and restore it with that."
            )
        there = _site_is_there(url)
        if there and not (replace and sqlite_file(url)):
            raise CarryError(_room_needed(url))
        backup.verify()
        aside = []
        if target := sqlite_file(url):
            with new_sqlite_file(target, now, keep=there) as new:
                left_out = _build(backup, new.url, now, leave_out=leave_out)
            aside = new.kept_aside
        else:
            left_out = _build(backup, url, now, leave_out=leave_out)
        return Restored(backup.manifest, (*aside, *_put_files(backup, instance, now)), left_out)


def _room_needed(url: str | URL) -> str:
    there = f"There are records already in {shown_url(url)}"
    if sqlite_file(url):
        return f"{there}. To keep them aside and restore in their place, stop the site and add --replace."
    return f"{there}. Make a new, empty database, name it in TRAINER_DATABASE, and restore into that."


def _site_is_there(url: str | URL) -> bool:
    """Whether a database has anything in it, be it damaged or another program's."""
    try:
        check_version(url)
    except DatabaseVersionError as error:
        return error.state != "empty"
    except DatabaseError:
        if sqlite_file(url) is None:
            raise
    return True


def _build(backup: Backup, url: str | URL, now: datetime, *, leave_out: bool) -> Mapping[str, frozenset[int]]:
    """
    Make the tables as they were, fill and compare them, and bring them up to date: all of it, or nothing.

    Returns:
        What was left out.
    """
    manifest = backup.manifest
    with filled_at_once(url) as (connection, migrate):
        migrate(manifest.revision)
        shapes = {shape.name: shape for shape in shapes_of(connection)}
        if shapes != {table.name: table.shape for table in manifest.tables}:
            raise CarryError(
                "The tables in the backup are not those of the version that it names; it was changed by hand."
            )
        left_out = orphans(connection, backup) if leave_out else {}
        for table in manifest.tables:
            _fill(connection, backup, table, left_out.get(table.name, frozenset()))
        set_sequences(connection, shapes.values())
        migrate("head")
        _end_sign_ins(connection, now)
    return left_out


def _fill(connection: Connection, backup: Backup, table: TableEntry, left_out: frozenset[int]) -> None:
    sent = Tally()
    fill(connection, table.shape, tallied(without(backup.lines(table), table.shape, left_out), sent))
    whole = sent if left_out else table.tally
    if tally_of(lines_of(connection, table.shape)) != whole:
        raise CarryError(f"{table.name} reads back otherwise than it stands in the backup; nothing was restored.")


def _end_sign_ins(connection: Connection, now: datetime) -> None:
    connection.execute(update(SignInSession).where(SignInSession.revoked_at.is_(None)).values(revoked_at=now))
    connection.execute(delete(HalfSignIn))


def _put_files(backup: Backup, instance: Path, now: datetime) -> list[Path]:
    """Write the files of the instance folder; one that is there and says something else is moved aside."""
    aside = []
    for entry in backup.manifest.files:
        file, content = instance / entry.name, backup.content(entry)
        if file.exists():
            if file.read_bytes() == content:
                continue
            aside.append(move_aside(file, now))
        write_file(file, content)
    return aside
