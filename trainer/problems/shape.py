"""
The shape of a question file, validated: which keys there are and what each takes. Meaning is checked in `compiling`.

Every key carries the part that it belongs to, *rules* (what decides about right and wrong) or *words*: the two content
hashes are taken over these parts, so that a mended typo resets no statistics.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Discriminator, Field, Tag

from trainer.problems.model import AnswerKind, BenderGroup

__all__ = [
    "AskShape",
    "BenderShape",
    "ChooseShape",
    "DrawShape",
    "FamilyShape",
    "HintShape",
    "MistakeShape",
    "OptionsShape",
    "ParameterShape",
    "RangeShape",
    "RowsShape",
    "StatementShape",
    "StepShape",
    "WordsShape",
]

#: Entries of one kind in a file: each is worked through at every try of a draw.
MOST_ENTRIES = 40
#: Values or rows that one entry is drawn from; of a range, see `parameters.MOST_ROWS`.
MOST_VALUES = 1000
Name = Annotated[str, Field(pattern=r"^[a-z][a-z0-9_]*$", max_length=40)]
Id = Annotated[str, Field(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$", max_length=80)]
Text = Annotated[str, Field(min_length=1, max_length=4000)]
Line = Annotated[str, Field(min_length=1, max_length=400)]
#: A length in quotes with its unit, "1/2 in", or a bare number of the core's unit.
Amount = float | Annotated[str, Field(min_length=1, max_length=40)]


class Part(BaseModel):
    """A table of the file: unknown keys are refused, nothing changes after reading."""

    model_config = ConfigDict(extra="forbid", frozen=True, allow_inf_nan=False, defer_build=True)


class RangeShape(Part):
    """`{ from = "2 in", to = "12 in", step = "1/2 in" }`: every step, both ends included."""

    from_: Amount = Field(alias="from")
    to: Amount
    step: Amount


class ChooseShape(Part):
    """`{ choose = [22.5, 30, 45] }`: one of these amounts."""

    choose: list[Amount] = Field(min_length=1, max_length=MOST_VALUES)


class WordsShape(Part):
    """`{ words = ["wet", "dry"] }`: one of these names of the core."""

    words: list[Line] = Field(min_length=1, max_length=MOST_VALUES)


class RowsShape(Part):
    """`{ rows = [{ take_up = 5, trade_size = "1/2" }, ...] }`: values that belong together."""

    rows: list[dict[Name, float | Line]] = Field(min_length=1, max_length=MOST_VALUES)


def _which(entry: Any) -> str:
    """Tag of the shape whose own key stands in the entry; "range" where none does, so that an error names its keys."""
    keys = entry if isinstance(entry, dict) else getattr(entry, "model_fields_set", ())
    return next((key for key in ("choose", "words", "rows") if key in keys), "range")


ParameterShape = Annotated[
    Annotated[RangeShape, Tag("range")]
    | Annotated[ChooseShape, Tag("choose")]
    | Annotated[WordsShape, Tag("words")]
    | Annotated[RowsShape, Tag("rows")],
    Discriminator(_which),
]


class DrawShape(BaseModel):
    """The parameters by name, in the order in which they are drawn, and the conditions a draw must keep."""

    model_config = ConfigDict(extra="allow", frozen=True, allow_inf_nan=False, defer_build=True)
    __pydantic_extra__: dict[Name, ParameterShape]

    keep: list[Line] = Field(default=[], max_length=MOST_ENTRIES)

    @property
    def parameters(self) -> dict[str, RangeShape | ChooseShape | WordsShape | RowsShape]:
        """What is drawn, by name."""
        return self.__pydantic_extra__


class OptionsShape(Part):
    """Options that the core lists: by two outputs of the calculation, one right and one wrong."""

    right: Name
    wrong: Name
    show: int = Field(ge=2, le=8)
    #: Of several choices: the fewest and the most right ones that are shown.
    right_shown: tuple[int, int] = (1, 1)


class StatementShape(Part):
    """An option in the family's own words, whose truth the core's numbers decide."""

    id: Id
    text: Text
    right: Line
    why: Text
    #: A number that `why` tells as `{{ value | ... }}`: what the comparison comes to with this option.
    value: Line | None = None
    #: Of what may be wrong in a drawing: the place where its letter stands.
    at: Id | None = None


class StepShape(Part):
    """A step of work; the file gives the steps in the right order. `why` says why it stands there."""

    id: Id
    text: Text
    why: Text


class BenderShape(Part):
    """The bender to be put on the tube: what is chosen, and for which bend."""

    #: Output with the marks, and which bend is asked for in the order of bending.
    marks: Name = "marks"
    bend: int = Field(ge=1, le=4)
    #: Whether any bend that is not made yet may come next.
    any_left: bool = False
    groups: list[BenderGroup] = Field(min_length=2, max_length=4)
    #: Pencil marks by name, each with the formula of its place, from where the marks are measured.
    pencils: dict[Id, Line] = Field(default={}, max_length=4)


class AskShape(Part):
    """The question and what is taken as its answer."""

    kind: AnswerKind
    text: Text
    answer: Name | None = None
    tolerance: Amount | None = None
    #: Distance that a known mistake keeps from every accepted answer, in tolerances.
    gap: float = Field(default=3.0, ge=1)
    options: OptionsShape | None = None
    statements: list[StatementShape] = Field(default=[], max_length=MOST_ENTRIES)
    steps: list[StepShape] = Field(default=[], max_length=7)
    #: Pairs of steps whose order does not matter.
    free: list[tuple[Id, Id]] = Field(default=[], max_length=MOST_ENTRIES)
    show: int | None = Field(default=None, ge=2, le=8)
    bender: BenderShape | None = None


class MistakeShape(Part):
    """A wrong route: its value (or values, where two bases lead to two), the option that it judges wrongly, two steps the wrong way round, or what places show."""

    id: Id
    value: Line | Annotated[list[Line], Field(max_length=MOST_ENTRIES)] | None = None
    option: Id | None = None
    #: The first of these steps was put before the second, and should come after it.
    before: tuple[Id, Id] | None = None
    #: Of the bender on the tube: what is chosen wrongly, by its group; several words are alternatives.
    chose: dict[BenderGroup, Id | list[Id]] = {}
    #: Of places: what the choice shows, a word of `trainer.calc.strap_run.SLIPS`.
    shows: Id | None = None
    when: Line | None = None
    where: dict[Name, list[Line]] = {}
    #: What was done, to be read after "9 of 24": "left the shrink out"; the id in words where it is missing.
    did: Annotated[str, Field(min_length=1, max_length=80)] | None = None
    say: Text


class HintShape(Part):
    """One hint, offered in the order of the file."""

    say: Text


class FamilyShape(Part):
    """A question file."""

    id: Id
    title: Line
    skill: Annotated[str, Field(pattern=r"^[a-z-]+\.[a-z-]+$", max_length=40)]
    lesson: Id | None = None
    level: Literal[1, 2, 3]
    #: Work of a later year: asked only of who has opened it.
    later: bool = False
    calculation: Name
    basis: list[Literal["sharp-corner", "handbook", "arc"]] = []
    figure: Name | None = None
    sources: list[Line] = Field(min_length=1, max_length=MOST_ENTRIES)
    draw: DrawShape
    inputs: dict[Name, Line] = Field(default={}, max_length=MOST_ENTRIES)
    facts: dict[Name, Annotated[str, Field(pattern=r"^[a-z_]+(\.[A-Za-z0-9_]+)+$")]] = {}
    #: Numbers of the tables that are other ones at a place, by their path; `problems.local` puts them in.
    local: dict[Annotated[str, Field(pattern=r"^[a-z_]+(\.[A-Za-z0-9_]+)+$")], float] = {}
    phrases: dict[Name, dict[str, Line]] = Field(default={}, max_length=MOST_ENTRIES)
    ask: AskShape
    mistakes: list[MistakeShape] = Field(default=[], max_length=MOST_ENTRIES)
    hints: list[HintShape] = Field(default=[], max_length=3)
