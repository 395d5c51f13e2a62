"""What stands in front of a lesson: TOML between two lines of `+++`, validated, with its examples and tables worked once."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from msgspec import Struct

from trainer.calc.calculation import Calculation
from trainer.calc.catalogue import CATALOGUE
from trainer.calc.message import InputError
from trainer.lessons.model import Column, Example, Source, Table
from trainer.lessons.shape import ExampleShape, FactShape, FrontShape, TableShape
from trainer.lessons.values import fact, inputs_of, values_of
from trainer.problems.errors import ContentError
from trainer.problems.family import read_toml
from trainer.problems.lines import KeyPath, line_of
from trainer.problems.shaping import shaped
from trainer.text.formats import FORMATS
from trainer.text.template import Template, TemplateError, compile_template

__all__ = ["Front", "read_front"]


class Front(Struct, frozen=True):
    """The front matter read: its shape, and what is made of it."""

    shape: FrontShape
    facts: Mapping[str, float]
    examples: Mapping[str, Example]
    tables: Mapping[str, Table]
    sources: tuple[Source, ...]


def read_front(file: str, toml: str) -> Front:
    """
    Read the front matter.

    Args:
        file: What errors call the file.
        toml: The text between the fences, with an empty line in place of the first fence, so that lines agree.

    Raises:
        ContentError: With every further finding in `also`.
    """
    shape, lines = shaped(file, toml, read_toml(file, toml), FrontShape)
    return _Reader(file, lines).front(shape)


class _Reader:
    """One reading; findings are gathered, so that one pass shows all."""

    def __init__(self, file: str, lines: Mapping[KeyPath, int]) -> None:
        self.file = file
        self.lines = lines
        self.found: list[ContentError] = []

    def fail(self, path: KeyPath, given: str, accepted: str) -> None:
        """Keep a finding."""
        key = ".".join(map(str, path))
        self.found.append(ContentError(self.file, line_of(self.lines, path), key, repr(given), accepted))

    def front(self, shape: FrontShape) -> Front:
        facts = {name: self.fact(name, entry) for name, entry in shape.facts.items()}
        examples = {name: self.example(name, entry) for name, entry in shape.examples.items()}
        tables = {name: self.table(name, entry) for name, entry in shape.tables.items()}
        if self.found:
            raise ContentError.of(self.found)
        sources = tuple(Source(entry.fact, entry.source, entry.checked) for entry in shape.sources)
        return Front(
            shape,
            MappingProxyType({name: value for name, value in facts.items() if value is not None}),
            MappingProxyType({name: example for name, example in examples.items() if example is not None}),
            MappingProxyType({name: table for name, table in tables.items() if table is not None}),
            sources,
        )

    def fact(self, name: str, entry: FactShape) -> float | None:
        """A number of the core's tables, or the lesson's own with source and how it was checked."""
        path = ("facts", name)
        if entry.core is not None:
            value = fact(entry.core)
            if value is None:
                self.fail((*path, "core"), entry.core, 'a number in a table of the core, "cutting.stick.length"')
            return value
        if entry.value is None or entry.source is None or entry.checked is None:
            self.fail(path, name, "core = a number in a table of the core, or value with source and checked")
        return entry.value

    def calculation(self, path: KeyPath, name: str) -> Calculation | None:
        if name not in CATALOGUE:
            self.fail((*path, "calculation"), name, f"one of {', '.join(CATALOGUE)}")
        return CATALOGUE.get(name)

    def example(self, name: str, entry: ExampleShape) -> Example | None:
        path = ("examples", name)
        calculation = self.calculation(path, entry.calculation)
        if calculation is None or self.worked(path, calculation, entry.inputs) is None:
            return None
        return Example(name, calculation, MappingProxyType(entry.inputs), self.template((*path, "text"), entry.text))

    def worked(
        self, path: KeyPath, calculation: Calculation, inputs: Mapping[str, str], vary: str = ""
    ) -> Mapping[str, object] | None:
        """Inputs and outputs of one run; None, with a finding, when the core refuses an input."""
        try:
            values = inputs_of(calculation, inputs, "2023")
            return values_of(calculation, values, calculation.solve(values))
        except InputError as error:
            key = ("over",) if error.field == vary else ("inputs", error.field or "")
            accepted = f"an input that {calculation.name} takes, such as {error.example}"
            self.fail((*path, *key), error.given, accepted)
            return None

    def template(self, path: KeyPath, text: str | None) -> Template | None:
        try:
            return None if text is None else compile_template(text)
        except TemplateError as error:
            self.fail(path, error.given, error.accepted)
            return None

    def table(self, name: str, entry: TableShape) -> Table | None:
        path = ("tables", name)
        calculation = self.calculation(path, entry.calculation)
        if calculation is None:
            return None
        for place, column in enumerate(entry.columns):
            if column.format not in FORMATS:
                self.fail((*path, "columns", place, "format"), column.format, f"one of {', '.join(FORMATS)}")
        rows = [self.worked(path, calculation, {**entry.inputs, entry.vary: text}, entry.vary) for text in entry.over]
        if rows[0] is not None:
            self.columns(path, entry, rows[0])
        columns = tuple(Column(column.name, column.heading, column.format) for column in entry.columns)
        fixed = MappingProxyType(entry.inputs)
        return Table(1, entry.caption, calculation, fixed, entry.vary, tuple(entry.over), columns)

    def columns(self, path: KeyPath, entry: TableShape, row: Mapping[str, object]) -> None:
        """Every column but an output that may be missing has a value."""
        known = {*row, *(output.name for output in CATALOGUE[entry.calculation].outputs if output.optional)}
        for place, column in enumerate(entry.columns):
            if column.name not in known:
                self.fail((*path, "columns", place, "name"), column.name, f"one of {', '.join(sorted(known))}")
