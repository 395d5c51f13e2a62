"""The shape of a lesson's front matter, validated: which keys there are and what each takes."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from trainer.lessons.model import USUAL_ORDER

__all__ = ["ColumnShape", "ExampleShape", "FactShape", "FrontShape", "SourceShape", "TableShape"]

Name = Annotated[str, Field(pattern=r"^[a-z][a-z0-9_]*$", max_length=40)]
Id = Annotated[str, Field(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$", max_length=80)]
Text = Annotated[str, Field(min_length=1, max_length=2000)]
Line = Annotated[str, Field(min_length=1, max_length=300)]


class Part(BaseModel):
    """A table of the front matter: unknown keys are refused, nothing changes after reading."""

    model_config = ConfigDict(extra="forbid", frozen=True, allow_inf_nan=False, defer_build=True)


class SourceShape(Part):
    """Where something that the lesson says comes from."""

    fact: Line
    source: Line
    checked: Literal["two sources", "computed", "from memory"]


class FactShape(Part):
    """A number of the trade that the prose names: from a table of the core, or the lesson's own with its source."""

    core: Annotated[str, Field(pattern=r"^[a-z_]+(\.[a-z0-9_]+)+$")] | None = None
    value: float | None = None
    source: Line | None = None
    checked: Literal["two sources", "computed", "from memory"] | None = None


class ExampleShape(Part):
    """A worked example: inputs as typed, and what is asked."""

    calculation: str
    inputs: dict[Name, str]
    text: Text | None = None


class ColumnShape(Part):
    """A column of a computed table: an input or output, its heading, its named format."""

    name: Name
    heading: Line
    format: str


class TableShape(Part):
    """A computed table: one input varied, the others fixed."""

    caption: Line
    calculation: str
    inputs: dict[Name, str] = {}
    vary: Name
    over: list[Line] = Field(min_length=1, max_length=20)
    columns: list[ColumnShape] = Field(min_length=2, max_length=6)


class FrontShape(Part):
    """The front matter."""

    id: Id
    title: Annotated[str, Field(min_length=1, max_length=80)]
    about: Line
    unit: Id
    skills: list[Annotated[str, Field(pattern=r"^[a-z-]+\.[a-z-]+$")]] = Field(min_length=1)
    minutes: int = Field(ge=1, le=20)
    order: int = Field(default=USUAL_ORDER, ge=0)
    later: bool = False
    sources: list[SourceShape] = Field(min_length=1)
    facts: dict[Name, FactShape] = {}
    examples: dict[Name, ExampleShape] = {}
    tables: dict[Name, TableShape] = {}
