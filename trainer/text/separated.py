"""
Tables out of spreadsheets: the bytes of a CSV file, or what was pasted from one, read into rows of cells.

Programs write such files with commas, semicolons or tabs, with or without a byte order mark, in UTF-8, UTF-16 or the old
Windows code page; all of them are read, and each row keeps the number of the line on which it begins.
"""

from __future__ import annotations

import codecs
import csv
import re
from collections import Counter
from io import StringIO

from msgspec import Struct

from trainer.calc.message import InputError, Message
from trainer.text.signs import without_hidden

__all__ = ["MOST_BYTES", "MOST_ROWS", "Row", "decoded", "rows_of", "unarmed"]

MOST_BYTES = 100_000
MOST_ROWS = 300
MOST_CELLS = 60
LONGEST_CELL = 400

SEPARATORS = (",", ";", "\t", "|")
#: A sign that no list has, for a list of one column.
NOTHING_SEPARATES = "\x1f"
#: Beginnings of files that hold a workbook or a document instead of plain text.
NO_TEXT = (b"PK\x03\x04", b"\xd0\xcf\x11\xe0", b"%PDF", b"\x89PNG", b"\xff\xd8\xff")
MARKS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)
#: The line by which some spreadsheets say what separates the cells.
SAYS_SEPARATOR = re.compile(r"sep=(.)\r?\n", re.IGNORECASE)
EXAMPLE = "Name,Number"
#: What a spreadsheet may take for the beginning of a formula, wide forms too; some look past blanks before it.
ARMED = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")


def unarmed(cell: str) -> str:
    """
    A text for a table that no spreadsheet takes for a formula: one that could be gets an apostrophe before it.

    >>> unarmed("=1+1"), unarmed(" @home"), unarmed("3 1/2")
    ("'=1+1", "' @home", '3 1/2')
    """
    return f"'{cell}" if cell.startswith(ARMED) or cell.lstrip().startswith(ARMED) else cell


class Row(Struct, frozen=True):
    """One row: the number of the line on which it begins, and its cells without space around them."""

    line: int
    cells: tuple[str, ...]


def decoded(data: bytes, *, field: str = "file") -> str:
    r"""
    The text of a file.

    Args:
        data: The file.
        field: Name of the input, for the error.

    Raises:
        InputError: When it is too long, or no text but a workbook, a document or a picture.

    >>> decoded("Name;Nr\nJosé;7".encode("cp1252"))
    'Name;Nr\nJosé;7'
    """
    if len(data) > MOST_BYTES:
        raise _refused("text.table-long", field)
    if data.startswith(NO_TEXT):
        raise _refused("text.table-workbook", field)
    mark = next((one for one in MARKS if data.startswith(one[0])), None)
    if mark is not None:
        return without_hidden(data[len(mark[0]) :].decode(mark[1], "replace"))
    return without_hidden(data.decode(_without_mark(data), "replace"))


def _without_mark(data: bytes) -> str:
    """The encoding of a file that does not say it."""
    start = data[:400]
    if b"\0" in start:
        # Plain letters leave every other byte empty.
        return "utf-16-le" if start[1::2].count(0) > start[::2].count(0) else "utf-16-be"
    try:
        data.decode("utf-8")
    except UnicodeDecodeError:
        return "cp1252"
    return "utf-8"


def rows_of(text: str, *, field: str = "file") -> list[Row]:
    r"""
    The rows of a table; rows without anything in them are left out.

    Args:
        text: As decoded, or as pasted.
        field: Name of the input, for the error.

    Raises:
        InputError: When there is nothing in it, or more than a class has, or a quotation mark is never closed.

    >>> [row.cells for row in rows_of('Name;Nr\n"Ruiz; Ana";7\n')]
    [('Name', 'Nr'), ('Ruiz; Ana', '7')]
    """
    text = text.removeprefix("\ufeff").replace("\0", "")
    said = SAYS_SEPARATOR.match(text)
    skipped = 1 if said else 0
    if said:
        text = text[said.end() :]
    rows = _read(text, said[1] if said else _separator(text), skipped, field)
    if not rows:
        raise _refused("text.table-empty", field)
    if len(rows) > MOST_ROWS + 1:
        raise _refused("text.table-rows", field)
    return rows


def _read(text: str, separator: str, skipped: int, field: str) -> list[Row]:
    reader = csv.reader(StringIO(text, newline=""), delimiter=separator)
    rows, line = [], 1 + skipped
    try:
        for cells in reader:
            held = tuple(" ".join(cell.split())[:LONGEST_CELL] for cell in cells[:MOST_CELLS])
            if any(cell.strip("".join(SEPARATORS)) for cell in held):
                rows.append(Row(line, held))
            line = reader.line_num + 1 + skipped
    except csv.Error as error:
        raise _refused("text.table-broken", field, line=line) from error
    return rows


def _separator(text: str) -> str:
    """What separates the cells: what gives most rows the same number of them, and more than one."""
    lines = [line for line in text.splitlines()[:40] if line.strip()]
    best = max(SEPARATORS, key=lambda one: _fits(lines, one))
    return best if _fits(lines, best)[0] > 0.5 else NOTHING_SEPARATES


def _fits(lines: list[str], separator: str) -> tuple[float, int]:
    try:
        counts = Counter(len(cells) for cells in csv.reader(lines, delimiter=separator))
    except csv.Error:
        return (0.0, 0)
    (cells, rows), *_ = counts.most_common(1) or [(1, 0)]
    return (0.0, 0) if cells < 2 else (rows / sum(counts.values()), cells)


def _refused(reason: str, field: str, **more: object) -> InputError:
    limits = {"rows": MOST_ROWS, "kilobytes": MOST_BYTES // 1000} | more
    return InputError(
        Message(reason, limits), given="", accepted=Message("text.table-accepted", limits), example=EXAMPLE, field=field
    )
