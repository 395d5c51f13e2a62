"""
The lines of a lesson that are no prose. Each begins with an arrow and stands alone, empty lines around it:

    -> draw offset from first: caption
    -> draw offset from first, yours first_mark = distance: caption
    -> draw fitting compression-wet: caption
    -> work first for spacing, shrink
    -> table multipliers
    -> cautions wet, grounding
    -> try offset-spacing
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from types import MappingProxyType

from msgspec import Struct
from msgspec.structs import replace

from trainer.calc.cautions import AREAS
from trainer.calc.expression import compile_expression
from trainer.calc.message import InputError
from trainer.figures.catalogue import FIGURES
from trainer.lessons.model import Block, Cautions, Drawing, Example, Table, TryIt, Work, Wrong
from trainer.lessons.values import inputs_of, values_of
from trainer.text.template import Template, TemplateError, compile_template

__all__ = ["ARROW", "Context", "DirectiveError", "read_directive"]

ARROW = "->"

_CAPTION = re.compile(r"(?P<order>[^:]*)(?::\s*(?P<caption>.+))?")
_FROM = re.compile(r"(?P<figure>[a-z_]+) from (?P<example>[a-z0-9_]+)(?:, yours (?P<output>[a-z_]+) = (?P<value>.+))?")
_WORD = re.compile(r"(?P<figure>[a-z_]+) (?P<word>[a-z0-9-]+)")
_WORK = re.compile(r"(?P<example>[a-z0-9_]+) for (?P<outputs>[a-z0-9_]+(?:, [a-z0-9_]+)*)")


class DirectiveError(ValueError):
    """
    A line beginning with an arrow cannot be followed.

    Attributes:
        given: The part that is at fault.
        accepted: What may stand there instead.
    """

    def __init__(self, given: str, accepted: str) -> None:
        super().__init__(f"given {given!r}; accepted: {accepted}")
        self.given = given
        self.accepted = accepted


class Context(Struct, frozen=True):
    """What directives may name: the lesson's examples and tables."""

    examples: Mapping[str, Example]
    tables: Mapping[str, Table]


def read_directive(text: str, line: int, context: Context) -> Block:
    """
    The block that a line asks for.

    Args:
        text: The line, arrow included.
        line: Its number.
        context: What it may name.

    Raises:
        DirectiveError: With the part at fault and what may stand there.
    """
    verb, _, rest = text.removeprefix(ARROW).strip().partition(" ")
    if verb not in _READERS:
        raise DirectiveError(verb, f"one of {', '.join(_READERS)}")
    return _READERS[verb](rest.strip(), line, context)


def _one_of(given: str, accepted: Mapping[str, object], what: str) -> str:
    if given not in accepted:
        raise DirectiveError(given, f"{what}: {', '.join(accepted) or 'there is none'}")
    return given


def _draw(rest: str, line: int, context: Context) -> Drawing:
    match = _CAPTION.fullmatch(rest)
    order, caption = (match["order"].strip(), match["caption"]) if match else (rest, None)
    written = None if caption is None else _template(caption)
    if drawn := _FROM.fullmatch(order):
        return _draw_example(drawn, line, context, written)
    if named := _WORD.fullmatch(order):
        return _draw_word(named, line, written)
    raise DirectiveError(order, "a figure from an example, or a figure and its word: fitting set-screw")


def _template(text: str) -> Template:
    try:
        return compile_template(text)
    except TemplateError as error:
        raise DirectiveError(error.given, error.accepted) from None


def _draw_example(match: re.Match[str], line: int, context: Context, caption: Template | None) -> Drawing:
    figure = _one_of(match["figure"], FIGURES, "a figure")
    example = context.examples[_one_of(match["example"], context.examples, "an example of this lesson")]
    drawn = FIGURES[figure].calculation
    if drawn != example.calculation.name:
        raise DirectiveError(figure, f"a figure of {example.calculation.name}, which {example.name} works out")
    wrong = _wrong(match["output"], match["value"], example) if match["output"] else None
    return Drawing(line, figure, example.name, "", wrong, caption)


def _wrong(output: str, formula: str, example: Example) -> Wrong:
    """A beginner's value, checked by working it out once."""
    calculation = example.calculation
    _one_of(output, {given.name: given for given in calculation.outputs}, "an output")
    try:
        expression = compile_expression(formula, _names(example))
    except InputError as error:
        raise DirectiveError(error.given, f"a formula over {', '.join(_names(example))}") from None
    return Wrong(output, expression)


def _names(example: Example) -> list[str]:
    """Numbers of an example that a formula may name."""
    inputs = inputs_of(example.calculation, example.inputs, "2023")
    values = values_of(example.calculation, inputs, example.calculation.solve(inputs))
    return [name for name, value in values.items() if not isinstance(value, str)]


def _draw_word(match: re.Match[str], line: int, caption: Template | None) -> Drawing:
    takers = {name: figure for name, figure in FIGURES.items() if figure.takes}
    figure = _one_of(match["figure"], takers, "a figure that takes a word")
    word = _one_of(match["word"], dict.fromkeys(FIGURES[figure].words), f"a {FIGURES[figure].takes}")
    return Drawing(line, figure, "", word, None, caption)


def _work(rest: str, line: int, context: Context) -> Work:
    match = _WORK.fullmatch(rest)
    if match is None:
        raise DirectiveError(rest, "an example and its outputs: first for spacing, shrink")
    name = _one_of(match["example"], context.examples, "an example of this lesson")
    outputs = {output.name: output for output in context.examples[name].calculation.outputs}
    return Work(line, name, tuple(_one_of(output, outputs, "an output") for output in match["outputs"].split(", ")))


def _table(rest: str, line: int, context: Context) -> Table:
    return replace(context.tables[_one_of(rest, context.tables, "a table of this lesson")], line=line)


def _cautions(rest: str, line: int, _context: Context) -> Cautions:
    return Cautions(line, tuple(_one_of(area, AREAS, "an area") for area in rest.split(", ")))


def _try(rest: str, line: int, _context: Context) -> TryIt:
    if not re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", rest):
        raise DirectiveError(rest, "the id of a problem family")
    return TryIt(line, rest)


_READERS: Mapping[str, Callable[[str, int, Context], Block]] = MappingProxyType(
    {"draw": _draw, "work": _work, "table": _table, "cautions": _cautions, "try": _try}
)
