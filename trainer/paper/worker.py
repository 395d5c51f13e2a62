"""
The process that sets one sheet and ends. It is started with this file alone, in isolation: the site is never loaded.

It reads one JSON document from standard input (`main`, `root`, `data`, `moment`) and writes the PDF to standard output.
What goes wrong is said on standard error, with exit status 1.

A sheet is tagged and held to PDF/UA, so that a screen reader can read it. That standard refuses a letter which no face has,
and people's names are in all scripts: such a sheet is set again with the faces of the host and not held to the standard.
"""

from __future__ import annotations

import json
import sys
import tempfile
from typing import Any

import typst

try:
    import resource
except ImportError:  # Not on every system; the time limit of who started this process holds all the same.
    resource = None  # type: ignore[assignment]  # A module by its type; None stands for a system without it.

MOST_MEMORY = 2 * 1024**3
#: What the typesetter says when no face has a letter.
NO_FACE = "could not be displayed with font"


def main() -> int:
    """Set the sheet that standard input asks for."""
    if resource is not None:
        resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))
    order = json.load(sys.stdin)
    try:
        try:
            sheet = _set(order, ignore_system_fonts=True, pdf_standards="ua-1")
        except RuntimeError as error:
            if NO_FACE not in str(error):
                raise
            sheet = _set(order, ignore_system_fonts=False)
    except RuntimeError as error:
        print(error, file=sys.stderr)  # noqa: T201 - who started this process reads it there
        return 1
    sys.stdout.buffer.write(sheet)
    return 0


def _set(order: dict[str, Any], **how: Any) -> bytes:
    """The sheet as PDF."""
    with tempfile.TemporaryDirectory() as nowhere:
        sheet: bytes = typst.compile(
            order["main"],
            root=order["root"],
            font_paths=[],
            format="pdf",
            sys_inputs={"data": order["data"]},
            # Packages would be fetched; there are none.
            package_path=nowhere,
            package_cache_path=nowhere,
            timestamp=order["moment"],
            **how,
        )
    return sheet


if __name__ == "__main__":
    sys.exit(main())
