"""Files put in the place of others, so that a pulled plug leaves the old one or the new one, and never neither."""

from __future__ import annotations

import os
import secrets
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import UTC, datetime
from pathlib import Path

from msgspec import Struct, field
from sqlalchemy import URL

from trainer.records.carry.errors import CarryError

__all__ = ["COMPANIONS", "NewFile", "flush_folder", "move_aside", "new_sqlite_file", "write_file"]

COMPANIONS = ("-wal", "-shm", "-journal")
"""Endings of what SQLite keeps beside its file while it is open."""

WAIT_SECONDS = 2.0
MAGIC = b"SQLite format 3\0"


class NewFile(Struct):
    """
    An SQLite file that is being built.

    Args:
        url: Its address until it takes its place.
        kept_aside: What was there before, under its new name; known once it has taken it.
    """

    url: URL
    kept_aside: list[Path] = field(default_factory=list)


@contextmanager
def new_sqlite_file(target: Path, now: datetime, *, keep: bool) -> Iterator[NewFile]:
    """
    Build an SQLite file beside another and let it take that one's place at the end of the block, unless an error leaves it.

    Args:
        target: The place.
        now: This moment; names what is kept.
        keep: Whether the file that is there is kept under another name.

    Raises:
        CarryError: When there is no folder, or a program has the old file open.
    """
    if not target.parent.is_dir():
        raise CarryError(f"There is no folder {target.parent}. Make it first.")
    _refuse_while_open(target)
    draft = target.with_name(f"{target.name}.restoring-{secrets.token_hex(4)}")
    new = NewFile(URL.create("sqlite", database=str(draft)))
    try:
        write_file(draft, b"")
        yield new
        _flush(draft)
        _refuse_while_open(target)
        if keep:
            shutil.copymode(target, draft)
            new.kept_aside.extend(_second_names(target, now))
        draft.replace(target)
        flush_folder(target.parent)
    except OSError as error:
        raise CarryError(f"{target} cannot be written: {error.strerror}. Nothing was changed.") from error
    finally:
        for name in _with_companions(draft):
            name.unlink(missing_ok=True)


def write_file(file: Path, content: bytes) -> None:
    """Write a new file for its owner alone; started as root, that is the owner of the folder."""
    handle = os.open(file, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600)
    with os.fdopen(handle, "wb") as stream:
        if os.geteuid() == 0:
            folder = file.parent.stat()
            os.fchown(stream.fileno(), folder.st_uid, folder.st_gid)
        stream.write(content)
        stream.flush()
        os.fsync(stream.fileno())


def move_aside(file: Path, now: datetime) -> Path:
    """Give a file another name, which says since when it is not used."""
    aside = _aside(file, now)
    file.rename(aside)
    return aside


def flush_folder(folder: Path) -> None:
    """Make sure that names given in a folder outlast a pulled plug."""
    _flush(folder)


def _second_names(target: Path, now: datetime) -> list[Path]:
    """
    A second name for a file, which keeps its first until another file takes that.

    What SQLite has left beside a file that it could not open must not be taken for the new one's.
    """
    aside = _aside(target, now)
    os.link(target, aside)
    companions = [name for name in _with_companions(target)[1:] if name.exists()]
    for name in companions:
        name.rename(aside.with_name(aside.name + name.name.removeprefix(target.name)))
    return [aside]


def _aside(file: Path, now: datetime) -> Path:
    aside = file.with_name(f"{file.name}.before-{now.astimezone(UTC):%Y%m%dT%H%M%SZ}")
    if aside.exists():
        raise CarryError(f"{aside} is there already. Try again in a second.")
    return aside


def _with_companions(file: Path) -> list[Path]:
    return [file, *(file.with_name(file.name + ending) for ending in COMPANIONS)]


def _refuse_while_open(file: Path) -> None:
    """
    Refuse to take the place of a file that a program has open: it would go on writing into the old one.

    SQLite leaves WAL mode only for who has the file alone; what the mode keeps beside the file is put into it as it does.
    """
    if not file.exists() or not _may_be_sqlite(file):
        return
    with closing(sqlite3.connect(file, timeout=WAIT_SECONDS)) as connection:
        try:
            mode = connection.execute("PRAGMA journal_mode = DELETE").fetchone()
        except sqlite3.OperationalError as error:
            if "locked" not in str(error):
                return
            mode = ("wal",)
        except sqlite3.DatabaseError:
            # Too damaged to be opened, by others too.
            return
    if mode == ("wal",):
        raise CarryError(f"{file} is in use. Stop the site first, and start it again afterwards.")


def _may_be_sqlite(file: Path) -> bool:
    """Whether a file begins as SQLite's do; opening one that does not would throw away what lies beside it."""
    with file.open("rb") as stream:
        return stream.read(len(MAGIC)) in {MAGIC, b""}


def _flush(path: Path) -> None:
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
