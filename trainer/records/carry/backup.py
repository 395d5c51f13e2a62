"""A site written into one file while it runs, and read again before the file gets its name."""

from __future__ import annotations

import os
import secrets
from collections.abc import Mapping
from contextlib import closing
from datetime import datetime
from hashlib import sha256
from pathlib import Path
from zipfile import ZIP_DEFLATED, ZipFile

from sqlalchemy import URL, Connection

from trainer.records.carry.archive import LIST, FileEntry, Manifest, TableEntry, file_member, opened, table_member
from trainer.records.carry.errors import CarryError, DamagedBackupError
from trainer.records.carry.places import flush_folder
from trainer.records.carry.reading import Tally, lines_of, tallied
from trainer.records.carry.tables import Shape, shapes_of
from trainer.records.engine import Database
from trainer.records.migrate import check_version
from trainer.records.revision import DatabaseVersionError, revision_of

__all__ = ["back_up"]

#: Records are text that repeats itself; a higher level costs time and saves little.
LEVEL = 4


def back_up(
    url: str | URL, files: Mapping[str, Path], target: Path, *, program_version: str, now: datetime
) -> Manifest:
    """
    Write a backup: all tables in one snapshot, and files; others read and write meanwhile.

    It is written under a passing name, flushed to disk, opened again and compared with what was read from the database;
    only then it gets its name. Only its owner may read it.

    Args:
        url: The site's database, at any revision that this program knows.
        files: Files of the instance folder, by their names in the backup.
        target: The file to be made.
        program_version: Of this program.
        now: This moment.

    Returns:
        What is in it.

    Raises:
        CarryError: When the file is there already, its folder is not, or it cannot be written; nothing is left behind.
        DatabaseVersionError: When there is no site, or one of a newer version.
    """
    _refuse_other_databases(url)
    _refuse_target(target)
    draft = target.with_name(f".{target.name}.{secrets.token_hex(4)}")
    try:
        manifest = _write(url, files, draft, program_version, now)
        _compare(draft, manifest)
        _refuse_target(target)
        draft.rename(target)
        flush_folder(target.parent)
    except OSError as error:
        raise CarryError(f"{target} cannot be written: {error.strerror}. Nothing was left behind.") from error
    finally:
        draft.unlink(missing_ok=True)
    return manifest


def _refuse_other_databases(url: str | URL) -> None:
    try:
        check_version(url)
    except DatabaseVersionError as error:
        # Before an update is the best time for a backup: the older tables are written as they are.
        if error.state != "older":
            raise


def _refuse_target(target: Path) -> None:
    if not target.parent.is_dir():
        raise CarryError(f"There is no folder {target.parent}. Make it first, or name another place for the backup.")
    if target.exists():
        raise CarryError(f"{target} is there already and is left as it is. Name another file.")


def _write(url: str | URL, files: Mapping[str, Path], draft: Path, program_version: str, now: datetime) -> Manifest:
    handle = os.open(draft, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600)
    with os.fdopen(handle, "wb") as stream:
        with (
            ZipFile(stream, "w", compression=ZIP_DEFLATED, compresslevel=LEVEL) as archive,
            closing(Database(url)) as database,
            database.read() as session,
        ):
            connection = session.connection()
            manifest = Manifest(
                made_at=now,
                program_version=program_version,
                revision=str(revision_of(connection)),
                engine=connection.dialect.name,  # type: ignore[arg-type]  # there are two, and pydantic looks
                tables=tuple(_add_table(archive, connection, shape) for shape in shapes_of(connection)),
                files=tuple(_add_file(archive, name, file) for name, file in files.items()),
            )
            # Last, so that a file that was cut off has no list.
            archive.writestr(LIST, manifest.model_dump_json(indent=1))
        stream.flush()
        os.fsync(stream.fileno())
    return manifest


def _add_table(archive: ZipFile, connection: Connection, shape: Shape) -> TableEntry:
    tally = Tally()
    with archive.open(table_member(shape.name), "w", force_zip64=True) as member:
        for line in tallied(lines_of(connection, shape), tally):
            member.write(line)
    return TableEntry(name=shape.name, columns=dict(shape.columns), rows=tally.rows, digest=tally.digest)


def _add_file(archive: ZipFile, name: str, file: Path) -> FileEntry:
    content = file.read_bytes()
    archive.writestr(file_member(name), content)
    return FileEntry(name=name, size=len(content), digest=sha256(content).hexdigest())


def _compare(draft: Path, manifest: Manifest) -> None:
    """Open what was written and compare it with what was read from the database."""
    try:
        with opened(draft) as backup:
            if backup.manifest != manifest:
                raise CarryError("The backup's own list reads back otherwise than it was written; nothing was kept.")
            backup.verify()
    except DamagedBackupError as error:
        raise CarryError(f"The backup does not read back as it was written, and was not kept. {error}") from error
