"""Tables as files to take along: CSV and XLSX, safe to open in a spreadsheet."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable, Sequence
from io import BytesIO, StringIO

from flask import Response

from trainer.text.separated import unarmed

__all__ = ["as_csv", "as_xlsx", "attached", "file_name"]

Cell = str | int | float | None

XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


def as_csv(name: str, columns: Sequence[str], rows: Iterable[Sequence[Cell]]) -> Response:
    """A table as CSV: UTF-8 with the mark by which spreadsheets know it, a line of headings first."""
    text = StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(columns)
    writer.writerows([unarmed(cell) if isinstance(cell, str) else cell for cell in row] for row in rows)
    return attached(text.getvalue().encode("utf-8-sig"), "text/csv; charset=utf-8", f"{file_name(name)}.csv")


def as_xlsx(name: str, columns: Sequence[str], rows: Iterable[Sequence[Cell]]) -> Response:
    """A table as a spreadsheet: every text a text, none a formula or a link."""
    from xlsxwriter import Workbook  # noqa: PLC0415 - hardly anybody wants one, and every start would wait for it

    held = BytesIO()
    with Workbook(held, {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}) as book:
        sheet = book.add_worksheet()
        sheet.write_row(0, 0, columns, book.add_format({"bold": True}))
        for nth, row in enumerate(rows, 1):
            sheet.write_row(nth, 0, row)
        sheet.freeze_panes(1, 0)
        sheet.autofit()
    return attached(held.getvalue(), XLSX, f"{file_name(name)}.xlsx")


def file_name(name: str) -> str:
    """
    A name that every system takes: small letters, digits and hyphens.

    >>> file_name('Tuesday "evening"/2026'), file_name("..")
    ('tuesday-evening-2026', 'record')
    """
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")[:60] or "record"


def attached(body: bytes, kind: str, name: str) -> Response:
    """A file to keep, made for this reader and stored nowhere on the way."""
    headers = {"Content-Disposition": f'attachment; filename="{name}"', "Cache-Control": "no-store"}
    return Response(body, content_type=kind, headers=headers)
