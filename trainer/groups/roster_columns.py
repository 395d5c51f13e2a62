"""
What the columns of a class list hold, told from their headings in the many ways in which schools write them; and the
people in it. Nothing here knows the database.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping, Sequence
from enum import StrEnum
from types import MappingProxyType

from msgspec import Struct

from trainer.text.separated import Row

__all__ = ["Holds", "ListedPerson", "RosterColumn", "RosterTable", "fold_name", "people_in", "table_of"]


class Holds(StrEnum):
    """What a column holds."""

    NAME = "name"
    FIRST = "first"
    LAST = "last"
    SIGN_IN = "sign-in"
    NUMBER = "number"
    NOTHING = ""


#: Headings, with nothing left of them but small letters.
SPELLINGS: Mapping[Holds, str] = MappingProxyType(
    {
        Holds.NAME: "name names fullname student students studentname nameofstudent learner learnername apprentice "
        "apprenticename participant participantname member membername person displayname trainee traineename "
        "namelastfirst lastfirst lastfirstname lastnamefirstname nombrecompleto nombreyapellido nombreyapellidos alumno "
        "estudiante employee employeename",
        Holds.FIRST: "first firstname firstnames given givenname givennames forename forenames fname studentfirstname "
        "prenom nombre nombres vorname",
        Holds.LAST: "last lastname lastnames surname surnames family familyname lname studentlastname nom apellido "
        "apellidos nachname",
        Holds.SIGN_IN: "signin signinname username user login loginname loginid userid usuario account accountname",
        Holds.NUMBER: "number no nr num id studentid studentno studentnumber studentnr idnumber idno badge badgeno "
        "badgenumber card cardnumber rosternumber apprenticeid apprenticenumber registrationnumber employeeid "
        "employeenumber matricula numero",
    }
)
_HOLDS = {spelling: holds for holds, spellings in SPELLINGS.items() for spelling in spellings.split()}
SAMPLES = 3
#: What stands behind a name, after a comma, and is no first name.
SUFFIXES = {"jr", "sr", "ii", "iii", "iv"}
NAMES = {Holds.NAME, Holds.FIRST, Holds.LAST}
#: The number of a line in front of a name, as a numbered list is pasted out of a letter.
COUNTED = re.compile(r"^\d+[.)]\s+")


class RosterColumn(Struct, frozen=True):
    """
    One column as it is shown to be chosen.

    Args:
        heading: What stands above it; "" for none.
        samples: What stands in it first.
        holds: What it holds, as far as that is known.
    """

    heading: str
    samples: tuple[str, ...]
    holds: Holds


class RosterTable(Struct, frozen=True):
    """
    The columns, the rows below the headings, whether the first row is headings, and whether the names were numbered;
    their numbers are left out of the rows then.
    """

    columns: tuple[RosterColumn, ...]
    rows: tuple[Row, ...]
    has_headings: bool
    was_numbered: bool = False

    @property
    def names_people(self) -> bool:
        """Whether it is known where the names stand."""
        held = {column.holds for column in self.columns}
        return Holds.NAME in held or {Holds.FIRST, Holds.LAST} <= held


class ListedPerson(Struct, frozen=True):
    """Who stands in a line; what is not given is ""."""

    line: int
    name: str
    sign_in: str
    number: str


def table_of(
    rows: Sequence[Row], *, chosen: Sequence[str] | None = None, has_headings: bool | None = None
) -> RosterTable:
    """
    The table with what its columns hold.

    Args:
        rows: At least one.
        chosen: What each column holds, where somebody chose it by hand.
        has_headings: Whether the first row is headings, where somebody said so; else told from its cells.
    """
    width = max(len(row.cells) for row in rows)
    known = [_heading(cell) for cell in rows[0].cells]
    if has_headings is None:
        has_headings = any(known)
    below = tuple(rows[1:] if has_headings else rows)
    holds = _chosen(chosen, width) if chosen is not None else _told(known if has_headings else [], width)
    numbered = [index for index in range(width) if holds[index] in NAMES and _is_numbered(below, index)]
    for index in numbered:
        below = tuple(_without_number(row, index) for row in below)
    return RosterTable(
        tuple(
            RosterColumn(_cell(rows[0], index) if has_headings else "", _samples(below, index), holds[index])
            for index in range(width)
        ),
        below,
        has_headings,
        bool(numbered),
    )


def people_in(table: RosterTable) -> list[ListedPerson]:
    """The people, one for each row, in their order; a name may be "" where its cell is empty."""
    return [
        ListedPerson(
            row.line,
            _name(row, table.columns),
            _held(row, table.columns, Holds.SIGN_IN),
            _held(row, table.columns, Holds.NUMBER),
        )
        for row in table.rows
    ]


def fold_name(name: str) -> str:
    """
    A name as two lists may write it differently: small letters without accents, points and doubled space.

    >>> fold_name("José  M. Ruiz") == fold_name("jose m ruiz")
    True
    """
    apart = unicodedata.normalize("NFKD", name.casefold())
    bare = "".join(letter for letter in apart if not unicodedata.combining(letter))
    return " ".join(re.sub(r"[^\w]+", " ", bare).split())


def _heading(cell: str) -> Holds:
    if cell in {"#", "№"}:
        return Holds.NUMBER
    return _HOLDS.get(re.sub(r"[\W\d_]+", "", fold_name(cell)), Holds.NOTHING)


def _told(known: Sequence[Holds], width: int) -> list[Holds]:
    """What each column holds by its heading, the first of two alike; a single column without a heading holds names."""
    if not known:
        return [Holds.NAME] if width == 1 else [Holds.NOTHING] * width
    told: list[Holds] = []
    for one in known:
        told.append(Holds.NOTHING if one in told else one)
    told += [Holds.NOTHING] * (width - len(told))
    if Holds.FIRST in told and Holds.LAST not in told:
        # "First name" alone is hardly meant; where "Nombre" stands alone, it is the whole name.
        told[told.index(Holds.FIRST)] = Holds.NOTHING if Holds.NAME in told else Holds.NAME
    if Holds.LAST in told and Holds.FIRST not in told:
        told[told.index(Holds.LAST)] = Holds.NOTHING
    if Holds.NAME in told and Holds.LAST in told:
        told[told.index(Holds.NAME)] = Holds.NOTHING
    return told


def _chosen(chosen: Sequence[str], width: int) -> list[Holds]:
    kinds = {one.value for one in Holds}
    held = [Holds(one) if one in kinds else Holds.NOTHING for one in chosen[:width]]
    return held + [Holds.NOTHING] * (width - len(held))


def _is_numbered(rows: Sequence[Row], index: int) -> bool:
    """Whether most cells of a column begin with the number of a list."""
    cells = [cell for row in rows if (cell := _cell(row, index))]
    return 2 * sum(COUNTED.match(cell) is not None for cell in cells) > len(cells)


def _without_number(row: Row, index: int) -> Row:
    cells = tuple(COUNTED.sub("", cell, count=1) if at == index else cell for at, cell in enumerate(row.cells))
    return Row(row.line, cells)


def _samples(rows: Sequence[Row], index: int) -> tuple[str, ...]:
    return tuple([cell for row in rows if (cell := _cell(row, index))][:SAMPLES])


def _cell(row: Row, index: int) -> str:
    return row.cells[index] if index < len(row.cells) else ""


def _held(row: Row, columns: Sequence[RosterColumn], holds: Holds) -> str:
    return next((_cell(row, index) for index, column in enumerate(columns) if column.holds is holds), "")


def _name(row: Row, columns: Sequence[RosterColumn]) -> str:
    whole = _held(row, columns, Holds.NAME)
    if whole:
        return _forward(whole)
    return f"{_held(row, columns, Holds.FIRST)} {_held(row, columns, Holds.LAST)}".strip()


def _forward(name: str) -> str:
    """
    A name with its last name first is turned.

    >>> _forward("Ruiz, Ana"), _forward("Ana Ruiz, Jr.")
    ('Ana Ruiz', 'Ana Ruiz, Jr.')
    """
    last, comma, first = (part.strip() for part in name.partition(","))
    if not (comma and last and first) or "," in first or fold_name(first) in SUFFIXES:
        return name
    return f"{first} {last}"
