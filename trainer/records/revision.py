"""
Which tables this version of the program works with, told without Alembic: a server that runs is asked again and again.

The line of revisions is read from the heads of the migration files; a test holds it against Alembic's own reading.
"""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

from sqlalchemy import Connection, inspect, text

__all__ = ["DatabaseVersionError", "line_of_revisions", "refuse_revision", "revision_of"]

VERSIONS = Path(__file__).parent / "migrations" / "versions"
HEAD = re.compile(r'^(revision|down_revision)(?:: [^=]+)? = (?:["\'](\w+)["\']|None)$', re.MULTILINE)


class DatabaseVersionError(RuntimeError):
    """
    The tables are not those that this version of the program works with.

    Attributes:
        state: "empty", "older", "newer" or "foreign".
    """

    def __init__(self, state: str, sentence: str) -> None:
        super().__init__(sentence)
        self.state = state


@cache
def line_of_revisions() -> tuple[str, ...]:
    """All revisions, the oldest first; the last is the one that this version of the program works with."""
    after = {}
    for file in VERSIONS.glob("*.py"):
        said = dict(HEAD.findall(file.read_text(encoding="utf-8")))
        after[said["down_revision"]] = said["revision"]
    line, last = [], ""
    while last in after:
        last = after.pop(last)
        line.append(last)
    return tuple(line)


def revision_of(connection: Connection) -> str | None:
    """The revision of a database; None for one without tables of ours."""
    if "alembic_version" not in inspect(connection).get_table_names():
        return None
    found = connection.execute(text("SELECT version_num FROM alembic_version")).scalar()
    return None if found is None else str(found)


def refuse_revision(found: str) -> None:
    """
    Refuse every revision but the one that this version of the program works with.

    Raises:
        DatabaseVersionError: "older" or "newer"; the sentence says what to do.
    """
    known = line_of_revisions()
    if found == known[-1]:
        return
    if found in known:
        raise DatabaseVersionError(
            "older",
            f"The database is from an older version of the program (its tables are at {found}, this version works "
            f"with {known[-1]}). Make a copy of it, then run: trainer init",
        )
    raise DatabaseVersionError(
        "newer",
        f"The database is from a newer version of the program (its tables are at {found}, this version knows them up "
        f"to {known[-1]}). Install the newer version, or use the database that belongs to this one.",
    )
