"""A question file read: TOML, then its shape, then its meaning. Every error names file, line and key."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from trainer.problems.errors import ContentError
from trainer.problems.lines import key_lines, line_of
from trainer.problems.parts import Family, KnownMistake, Statement
from trainer.problems.texts import texts_of
from trainer.text.signs import hidden_sign

__all__ = [
    "Family",
    "KnownMistake",
    "Statement",
    "load_family",
    "not_toml",
    "read_toml",
]

#: Of one file [characters]; the largest that comes with the program is some 40 kB.
LARGEST_FILE = 128 * 1024
AT_LINE = re.compile(r"\s*\((?:at line (\d+), column \d+|at end of document)\)")


def load_family(source: Path | str, name: str = "") -> Family:
    """
    Read a family.

    Args:
        source: A file, or the text of one.
        name: What errors call it; the file's path when left out.

    Raises:
        ContentError: With every further error of the file in `also`.
    """
    text = source.read_text("utf-8") if isinstance(source, Path) else source
    file = name or (str(source) if isinstance(source, Path) else "question file")
    data = read_toml(file, text)
    from trainer.problems.file_compiling import family_of  # noqa: PLC0415 - see `job_file.load_file`

    return family_of(data, file, text)


def read_toml(file: str, text: str) -> dict[str, Any]:
    """The tables of a text; ContentError with its line where it is no TOML, or more than anybody writes by hand."""
    if len(text) > LARGEST_FILE:
        raise ContentError(file, 1, "", f"{len(text):,} characters", f"at most {LARGEST_FILE:,} characters")
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise not_toml(file, text, error) from None
    except RecursionError:
        raise ContentError(
            file, 1, "", "tables or lists far too deep in one another", "TOML, a few levels deep"
        ) from None
    except ValueError:  # Python's own bound on the digits of a whole number.
        raise ContentError(file, 1, "", "a number with thousands of digits", "numbers of at most 15 digits") from None
    _refuse_hidden(file, text, data)
    return data


def _refuse_hidden(file: str, text: str, data: Mapping[str, Any]) -> None:
    """Refuse signs that nobody sees, typed or written as an escape: they make a page say something else than its file."""
    for path, said in texts_of(data):
        if sign := hidden_sign(said):
            line, key = line_of(key_lines(text), path), ".".join(map(str, path))
            raise ContentError(file, line, key, f"a sign that nobody sees, {sign}", "signs that can be seen")


def not_toml(file: str, text: str, error: tomllib.TOMLDecodeError) -> ContentError:
    """An error of TOML's grammar with the line that it speaks of."""
    match = AT_LINE.search(str(error))
    rows = text.splitlines() or [""]
    line = int(match[1]) if match and match[1] else len(rows)
    return ContentError(file, line, "", repr(rows[line - 1].strip()), f"TOML; {AT_LINE.sub('', str(error)).lower()}")
