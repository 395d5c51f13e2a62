"""
A backup: one ZIP file that either engine's records go into and come out of.

    manifest.json         what is in it, with the number of rows or bytes and the SHA-256 of each
    tables/answer.jsonl   the rows of a table, one to a line (`trainer.records.carry.lines`)
    files/secret_key      files of the instance folder

The list is written last: a file that was cut off has none and is refused.
"""

from __future__ import annotations

import json
import struct
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from hashlib import sha256
from pathlib import Path
from typing import Literal
from zipfile import BadZipFile, ZipFile

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from trainer.records.carry.errors import DamagedBackupError
from trainer.records.carry.reading import Tally, tally_of
from trainer.records.carry.tables import Kind, Shape

__all__ = ["LIST", "Backup", "FileEntry", "Manifest", "TableEntry", "file_member", "opened", "table_member"]

FORMAT: Literal[1] = 1
LIST = "manifest.json"
DIGEST = Field(pattern=r"^[0-9a-f]{64}$")
#: What reading a ZIP file with a wrong byte may raise.
_WRONG_BYTES = (BadZipFile, zlib.error, struct.error, EOFError, KeyError, NotImplementedError, RuntimeError, ValueError)


class _Entry(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


class TableEntry(_Entry):
    """One table: kinds by column, and the tally of its rows."""

    name: str = Field(pattern=r"^[a-z_]{1,63}$")
    columns: dict[str, Kind]
    rows: int = Field(ge=0)
    digest: str = DIGEST

    @property
    def shape(self) -> Shape:
        """The table that the rows are of."""
        return Shape(self.name, self.columns)

    @property
    def tally(self) -> Tally:
        """What its rows must add up to."""
        return Tally(self.rows, self.digest)


class FileEntry(_Entry):
    """One file of the instance folder."""

    name: str = Field(pattern=r"^[a-z_]{1,63}$")
    size: int = Field(ge=0)
    digest: str = DIGEST


class Manifest(_Entry):
    """What is in a backup. `tables` stand in the order in which they can be filled."""

    format: Literal[1] = FORMAT
    made_at: datetime
    program_version: str
    revision: str
    engine: Literal["sqlite", "postgresql"]
    tables: tuple[TableEntry, ...]
    files: tuple[FileEntry, ...]

    def rows(self, table: str) -> int:
        """How many rows of a table are in it."""
        return sum(entry.rows for entry in self.tables if entry.name == table)


class Backup:
    """
    A backup that is open for reading.

    Args:
        archive: The ZIP file.
        file: Where it lies, for messages.
    """

    def __init__(self, archive: ZipFile, file: Path) -> None:
        self._archive = archive
        self._file = file
        self.manifest = self._read_list()

    def lines(self, entry: TableEntry) -> Iterator[bytes]:
        """The lines of a table."""
        with self._plainly(), self._archive.open(table_member(entry.name)) as stream:
            yield from stream

    def content(self, entry: FileEntry) -> bytes:
        """What a file holds."""
        with self._plainly():
            return self._archive.read(file_member(entry.name))

    def verify(self) -> None:
        """
        Read all of it and compare with the list.

        Raises:
            DamagedBackupError: When a count or a digest is another one; the message names the first.
        """
        for table in self.manifest.tables:
            if (found := tally_of(self.lines(table))) != table.tally:
                raise self._damaged(
                    f"{table.name} has {found.rows} rows where the list says {table.rows}, or other ones"
                )
        for file in self.manifest.files:
            if sha256(self.content(file)).hexdigest() != file.digest:
                raise self._damaged(f"the file {file.name} is another one")

    def _read_list(self) -> Manifest:
        with self._plainly():
            told = json.loads(self._archive.read(LIST))
            if isinstance(told, dict) and isinstance(told.get("format"), int) and told["format"] > FORMAT:
                raise DamagedBackupError(
                    f"{self._file} was written by a newer version of the program. Restore it with that version."
                )
            try:
                return Manifest.model_validate(told)
            except ValidationError as error:
                first = error.errors()[0]
                raise self._damaged(
                    f"its list is wrong at {'.'.join(map(str, first['loc']))}: {first['msg']}"
                ) from error

    @contextmanager
    def _plainly(self) -> Iterator[None]:
        try:
            yield
        except DamagedBackupError:
            raise
        except _WRONG_BYTES as error:
            raise self._damaged(str(error).strip("'\"") or type(error).__name__) from error

    def _damaged(self, reason: str) -> DamagedBackupError:
        return DamagedBackupError(
            f"{self._file} is damaged, or no backup of this program: {reason}. Use another backup."
        )


@contextmanager
def opened(file: Path) -> Iterator[Backup]:
    """
    Open a backup and read its list.

    Raises:
        DamagedBackupError: When the file is not there or is no backup.
    """
    try:
        stream = file.open("rb")
    except OSError as error:
        raise DamagedBackupError(f"{file} cannot be read: {error.strerror}.") from error
    with stream:
        try:
            archive = ZipFile(stream)
        except _WRONG_BYTES as error:
            raise DamagedBackupError(f"{file} is damaged, or no backup of this program: {error}.") from error
        with archive:
            yield Backup(archive, file)


def table_member(name: str) -> str:
    """Where a table stands in the archive."""
    return f"tables/{name}.jsonl"


def file_member(name: str) -> str:
    """Where a file stands in the archive."""
    return f"files/{name}"
