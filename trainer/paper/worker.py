"""
The process that sets one sheet and ends. It is started with this file alone, in isolation: the site is never loaded.

It reads one JSON document from standard input (`main`, `root`, `data`, `moment`) and writes the PDF to standard output.
What goes wrong is said on standard error, with exit status 1.
"""

from __future__ import annotations

import json
import sys
import tempfile

import typst

try:
    import resource
except ImportError:  # Not on every system; the time limit of who started this process holds all the same.
    resource = None  # type: ignore[assignment]

MOST_MEMORY = 2 * 1024**3


def main() -> int:
    """Set the sheet that standard input asks for."""
    if resource is not None:
        resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))
    order = json.load(sys.stdin)
    with tempfile.TemporaryDirectory() as nowhere:
        try:
            sheet = typst.compile(
                order["main"],
                root=order["root"],
                ignore_system_fonts=True,
                font_paths=[],
                format="pdf",
                sys_inputs={"data": order["data"]},
                # Tagged and with a text for each drawing, so that a screen reader can read it.
                pdf_standards="ua-1",
                # Packages would be fetched; there are none.
                package_path=nowhere,
                package_cache_path=nowhere,
                timestamp=order["moment"],
            )
        except RuntimeError as error:
            print(error, file=sys.stderr)  # noqa: T201
            return 1
    sys.stdout.buffer.write(sheet)
    return 0


if __name__ == "__main__":
    sys.exit(main())
