"""
Which fact of the trade is taught where, and which questions exercise it.

Two kinds of facts: rules and habits in words, listed in `lessons/coverage.toml` with the lessons and families that take
them in, and the tables of the core, for which lessons and families are found by what they compute. A fact that no lesson
teaches or no family asks needs a reason.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Annotated, Literal

from msgspec import Struct
from pydantic import BaseModel, ConfigDict, Field

from trainer.calc.calculation import Calculation
from trainer.calc.published import PUBLISHED_FILES
from trainer.calc.sources import Group, groups
from trainer.calc.sources_used import groups_used
from trainer.lessons.model import Lesson, Table
from trainer.problems.errors import ContentError
from trainer.problems.family import read_toml
from trainer.problems.lines import line_of
from trainer.problems.parts import Family
from trainer.problems.shaping import shaped

__all__ = ["COVERAGE_FILE", "Covered", "Facts", "coverage", "load_facts", "uncovered"]

COVERAGE_FILE = "coverage.toml"

Id = Annotated[str, Field(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$", max_length=80)]
Line = Annotated[str, Field(min_length=1, max_length=400)]


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


class FactShape(_Part):
    """A rule or a habit in words; `not_taught` and `not_asked` are the reasons where a list is empty."""

    id: Id
    unit: Id
    fact: Line
    source: Line
    checked: Literal["two sources", "computed", "from memory"]
    taught: list[Id] = []
    asked: list[Id] = []
    not_taught: Line | None = None
    not_asked: Line | None = None


class TableShape(_Part):
    """Reasons for a table of the core, "file.group", that no lesson shows or no family uses."""

    table: Annotated[str, Field(pattern=r"^[a-z_]+(\.[A-Za-z0-9_-]+)+$")]
    not_taught: Line | None = None
    not_asked: Line | None = None


class _FileShape(_Part):
    fact: list[FactShape] = []
    table: list[TableShape] = []


class Facts(Struct, frozen=True):
    """The file as read: its facts, the reasons for tables, and the line of each entry."""

    file: str
    facts: Sequence[FactShape]
    tables: Sequence[TableShape]
    lines: Mapping[tuple[str, int], int]


class Covered(Struct, frozen=True):
    """
    A fact and where it is met.

    Args:
        name: Its id, or "file.group" of a table of the core.
        fact: In words; "" for a table.
        source: Where it comes from.
        checked: How it was checked.
        taught: Ids of lessons.
        asked: Ids of families.
        not_taught: Why no lesson has it; "" where one has, or where nobody said.
        not_asked: Why no family asks it; likewise.
    """

    name: str
    fact: str
    source: str
    checked: str
    taught: tuple[str, ...]
    asked: tuple[str, ...]
    not_taught: str
    not_asked: str

    @property
    def is_open(self) -> bool:
        """Whether it is neither met nor left out for a reason."""
        return not (self.taught or self.not_taught) or not (self.asked or self.not_asked)


def load_facts(folder: Path) -> Facts:
    """
    Read `coverage.toml` of the folder of lessons.

    Raises:
        ContentError: With every further finding in `also`.
    """
    file = f"{folder.name}/{COVERAGE_FILE}"
    try:
        text = (folder / COVERAGE_FILE).read_text("utf-8")
    except OSError:
        raise ContentError(file, 1, "", "no such file", "the list of facts to teach") from None
    shape, lines = shaped(file, text, read_toml(file, text), _FileShape)
    entries = [("fact", at) for at in range(len(shape.fact))] + [("table", at) for at in range(len(shape.table))]
    return Facts(file, shape.fact, shape.table, {entry: line_of(lines, entry) for entry in entries})


def coverage(facts: Facts, lessons: Mapping[str, Lesson], families: Mapping[str, Family]) -> tuple[Covered, ...]:
    """Every fact in words in the order of the file, then every table of the core that decides about a number."""
    said = (
        Covered(
            fact.id,
            fact.fact,
            fact.source,
            fact.checked,
            tuple(fact.taught),
            tuple(fact.asked),
            fact.not_taught or "",
            fact.not_asked or "",
        )
        for fact in facts.facts
    )
    return (*said, *_tables(facts, lessons, families))


def uncovered(facts: Facts, lessons: Mapping[str, Lesson], families: Mapping[str, Family]) -> list[ContentError]:
    """What is open, names a lesson or a family that there is not, stands twice, or has a reason that it doesn't need."""
    found = list(_misnamed(facts, lessons, families))
    places = {fact.id: ("fact", at) for at, fact in enumerate(facts.facts)}
    places |= {table.table: ("table", at) for at, table in enumerate(facts.tables)}
    if len(places) < len(facts.facts) + len(facts.tables):
        found.append(ContentError(facts.file, 1, "", "a fact or a table that stands twice", "each once"))
    covered = coverage(facts, lessons, families)
    for entry in covered:
        line = facts.lines[places[entry.name]] if entry.name in places else 1
        for met, reason, key in (
            (entry.taught, entry.not_taught, "taught"),
            (entry.asked, entry.not_asked, "asked"),
        ):
            if not met and not reason:
                found.append(ContentError(facts.file, line, f"{entry.name}.{key}", "nothing", f"names, or not_{key}"))
            if met and reason:
                given = f"{', '.join(met)} and a reason why not"
                found.append(ContentError(facts.file, line, f"{entry.name}.not_{key}", given, "one of the two"))
    unknown = {table.table for table in facts.tables} - {entry.name for entry in covered}
    found += [ContentError(facts.file, 1, "table", repr(name), "a table of the core") for name in sorted(unknown)]
    return found


def _misnamed(facts: Facts, lessons: Mapping[str, Lesson], families: Mapping[str, Family]) -> Iterator[ContentError]:
    for at, fact in enumerate(facts.facts):
        line = facts.lines["fact", at]
        for name in fact.taught:
            if name not in lessons:
                yield ContentError(facts.file, line, f"{fact.id}.taught", repr(name), "the id of a lesson")
        for name in fact.asked:
            if name not in families:
                yield ContentError(facts.file, line, f"{fact.id}.asked", repr(name), "the id of a family")


def _tables(facts: Facts, lessons: Mapping[str, Lesson], families: Mapping[str, Family]) -> Iterator[Covered]:
    """The tables of the core; those that only hold published figures to check against are left out."""
    reasons = {table.table: table for table in facts.tables}
    taught = {lesson.id: _used_by_lesson(lesson) for lesson in lessons.values()}
    asked = {family.id: _used(family.calculation) | {*family.shape.facts.values()} for family in families.values()}
    for group in groups():
        if group.file in PUBLISHED_FILES:
            continue
        name = ".".join(group.path)
        reason = reasons.get(name)
        yield Covered(
            name,
            "",
            group.source,
            group.checked,
            tuple(key for key, used in taught.items() if _is_used(group, used)),
            tuple(key for key, used in asked.items() if _is_used(group, used)),
            (reason.not_taught if reason else None) or "",
            (reason.not_asked if reason else None) or "",
        )


def _used_by_lesson(lesson: Lesson) -> frozenset[str]:
    """Tables that a lesson's examples, tables and named numbers rest on, as "file.group" or longer."""
    calculations = {example.calculation.name: example.calculation for example in lesson.examples.values()}
    for block in lesson.blocks:
        if isinstance(block, Table):
            calculations[block.calculation.name] = block.calculation
    used = frozenset(path for calculation in calculations.values() for path in _used(calculation))
    return used | {*lesson.core_facts}


def _used(calculation: Calculation) -> frozenset[str]:
    return frozenset(".".join(group.path) for group in groups_used(calculation))


def _is_used(group: Group, used: frozenset[str]) -> bool:
    name = ".".join(group.path)
    return any(path == name or path.startswith(f"{name}.") for path in used)
