"""
The shape of a job's file, validated, and the shape of a family that each of its parts has.

What all parts share stands at the top: `[draw]`, `[facts]`, `[phrases]`, the `scene` that goes before each question, skill,
lesson and sources. Each `[[parts]]` has what a question file has besides, and may have its own skill, lesson and sources,
more facts, more conditions in `keep`, and

    carry = { distance = "first-mark" }

which puts the answer of the part `first-mark` under the name `distance`: the number that the learner found there, or else
what it comes to, as a tape or a meter reads it. `questions/jobs/step-to-a-box.toml` is a good start.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Annotated, Any, Literal

from pydantic import Field

from trainer.problems.lines import KeyPath
from trainer.problems.shape import (
    AskShape,
    DrawShape,
    FamilyShape,
    HintShape,
    Id,
    Line,
    MistakeShape,
    Name,
    Part,
    Text,
)

__all__ = ["JobShape", "PlacedShape", "part_lines", "part_tables"]

Skill = Annotated[str, Field(pattern=r"^[a-z-]+\.[a-z-]+$", max_length=40)]
#: Tables that every part has from the job.
SHARED = ("draw", "facts", "phrases", "local")


class JobPartShape(Part):
    """One part of a job."""

    id: Annotated[Id, Field(max_length=40)]
    title: Line
    skill: Skill | None = None
    lesson: Id | None = None
    calculation: Name
    basis: list[Literal["sharp-corner", "handbook", "arc"]] = Field(default=[])
    figure: Name | None = None
    sources: list[Line] = Field(default=[])
    keep: list[Line] = Field(default=[])
    facts: dict[Name, Line] = Field(default={})
    inputs: dict[Name, Line] = Field(default={})
    carry: dict[Name, Id] = Field(default={})
    ask: AskShape
    mistakes: list[MistakeShape] = Field(default=[])
    hints: list[HintShape] = Field(default=[], max_length=3)


class JobShape(Part):
    """A job's file."""

    id: Annotated[Id, Field(max_length=39)]
    title: Line
    skill: Skill
    lesson: Id | None = None
    level: Literal[3]
    later: bool = False
    sources: list[Line] = Field(min_length=1)
    scene: Text
    draw: DrawShape
    facts: dict[Name, Line] = Field(default={})
    phrases: dict[Name, dict[str, Line]] = Field(default={})
    local: dict[str, float] = Field(default={})
    parts: list[JobPartShape] = Field(min_length=2, max_length=8)


class PlacedShape(FamilyShape):
    """A part as a family: as a question file, with what it takes over from parts before it."""

    id: Annotated[str, Field(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*\.[a-z0-9]+(-[a-z0-9]+)*$", max_length=80)]
    carry: dict[Name, Id] = Field(default={})


def part_tables(data: Mapping[str, Any]) -> Iterator[dict[str, Any]]:
    """
    Each part of a job's file as the table that a file of its own would have.

    Args:
        data: The file as TOML gives it, in the shape of a job.
    """
    for nth, part in enumerate(data["parts"], start=1):
        shared = {key: data[key] for key in ("skill", "lesson", "level", "later", *SHARED) if key in data}
        own = {key: value for key, value in part.items() if key != "keep"}
        yield {
            **shared,
            **own,
            "id": f"{data['id']}.{part['id']}",
            "title": f"{data['title']}, part {nth}: {part['title']}",
            "sources": [*data["sources"], *part.get("sources", [])],
            "facts": {**data.get("facts", {}), **part.get("facts", {})},
            "draw": {**data["draw"], "keep": [*data["draw"].get("keep", []), *part.get("keep", [])]},
            "ask": {**part["ask"], "text": f"{data['scene'].strip()}\n\n{part['ask']['text'].strip()}\n"},
        }


def part_lines(lines: Mapping[KeyPath, int], at: int) -> dict[KeyPath, int]:
    """The lines of a part's keys, by their paths in its own table."""
    own = {path[2:]: line for path, line in lines.items() if path[:2] == ("parts", at) and len(path) > 2}
    shared = {path: line for path, line in lines.items() if path[0] in SHARED and path not in own}
    keep: dict[KeyPath, int] = {("draw", "keep"): own["keep",]} if ("keep",) in own else {}
    top: dict[KeyPath, int] = {("id",): lines.get(("parts", at), 1)}
    return {**shared, **top, **own, **keep}
