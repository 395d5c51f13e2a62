"""
What is found wrong in a question file while it is compiled, each finding with its line; formulas and prose are compiled
here, because they are where most is found.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence

from trainer.calc.expression import Expression, ExpressionError, compile_expression
from trainer.problems.errors import ContentError
from trainer.problems.lines import KeyPath, line_of
from trainer.text.template import Template, TemplateError, compile_template
from trainer.text.words import say

__all__ = ["Findings"]

NOTHING = compile_expression("0", [])
LONGEST_SHOWN = 300


class Findings:
    """
    The findings of one reading of one file.

    Args:
        file: Its name.
        lines: Line of each key.
        names: Names that formulas may use.
        told: Those of them that prose may use: all but the answer's.
        phrased: Names that have phrases.
    """

    def __init__(self, file: str, lines: Mapping[KeyPath, int]) -> None:
        self.file = file
        self.lines = lines
        self.errors: list[ContentError] = []
        self.names: Collection[str] = ()
        self.told: Collection[str] = ()
        self.phrased: Collection[str] = ()

    def fail(self, path: Sequence[str | int], given: object, accepted: str) -> None:
        """Note a finding at a key."""
        key = ".".join(map(str, path))
        shown = str(given)[:LONGEST_SHOWN]
        self.errors.append(ContentError(self.file, line_of(self.lines, path), key, shown, accepted))

    def formulas(self, path: KeyPath, texts: Iterable[str]) -> tuple[Expression, ...]:
        """Formulas of one key."""
        return tuple(self.formula(path, text) for text in texts)

    def formula(self, path: KeyPath, text: str, *more: str) -> Expression:
        """A formula over the known names and `more`."""
        try:
            return compile_expression(text, [*self.names, *more])
        except ExpressionError as error:
            self.fail(path, f"{text!r} ({say(error.reason)})", say(error.accepted))
            return NOTHING

    def template(self, path: KeyPath, text: str, *more: str) -> Template:
        """Prose with its names looked at: none may be unknown, and none give the answer away."""
        try:
            template = compile_template(text)
        except TemplateError as error:
            self.fail(path, error.given, error.accepted)
            return Template(())
        for place in template.places:
            if place.name not in {*self.told, *more}:
                self.fail(path, place.name, f"one of the names {', '.join(sorted([*self.told, *more]))}")
            elif place.format == "phrase" and place.name not in self.phrased:
                self.fail(path, place.name, f"a table [phrases.{place.name}] with a phrase for each word")
        return template

    def check_unique(self, path: KeyPath, ids: Sequence[str]) -> None:
        """Find an id that stands twice in a list of tables."""
        for at, one in enumerate(ids):
            if one in ids[:at]:
                self.fail((*path, at, "id"), one, "an id that stands only once")
