"""
What a family draws: each parameter is a table of rows, one of which is taken with equal chance.

A range, a list of amounts and a list of words are tables with one column. Lengths step in exact fractions and become
floats at the end, so that every sixteenth of an inch is hit exactly.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import lcm

from trainer.calc.length import read_length
from trainer.calc.message import InputError
from trainer.problems.parts import Number, Parameter
from trainer.problems.shape import ChooseShape, RangeShape, RowsShape, WordsShape

__all__ = ["MOST_ROWS", "ShapeError", "amount", "parameter"]

MOST_ROWS = 20_000


class ShapeError(ValueError):
    """
    A value of a question file that has the right shape and still no use.

    Attributes:
        path: Keys below the entry, from the outside in.
        given: What stands there.
        accepted: What may stand there instead.
    """

    def __init__(self, path: tuple[str | int, ...], given: object, accepted: str) -> None:
        super().__init__(f"{path}: {given!r}; accepted: {accepted}")
        self.path = path
        self.given = given
        self.accepted = accepted


def amount(given: float | str) -> Fraction:
    """
    A number as the file gives it: bare, in the core's unit, or a length in quotes with its unit.

    >>> amount("2-1/2 in"), amount(0.1)
    (Fraction(5, 2), Fraction(1, 10))

    Raises:
        ShapeError: When a text is no length, or has no unit.
    """
    if not isinstance(given, str):
        return Fraction(repr(given))
    try:
        length = read_length(given)
    except InputError:
        raise ShapeError((), given, 'a length in quotes with its unit, "2-1/2 in", or a bare number') from None
    if not length.unit_given:
        raise ShapeError((), given, f'the unit with it, "{given} in", or a bare number without quotes')
    return length.inches


def parameter(name: str, shape: RangeShape | ChooseShape | WordsShape | RowsShape) -> Parameter:
    """The rows of a drawn entry; ShapeError, with the path below the entry, when there are none or too many."""
    match shape:
        case RangeShape():
            return _one_column(name, _steps(shape))
        case ChooseShape():
            return _one_column(name, [float(_at(("choose",), given)) for given in shape.choose])
        case WordsShape():
            return _one_column(name, shape.words)
        case RowsShape():
            return _table(shape)


def _one_column(name: str, values: Sequence[Number]) -> Parameter:
    return Parameter((name,), tuple((value,) for value in values))


def _steps(shape: RangeShape) -> list[float]:
    start, end, step = (
        _at((key,), given) for key, given in (("from", shape.from_), ("to", shape.to), ("step", shape.step))
    )
    if step <= 0:
        raise ShapeError(("step",), shape.step, "a step above 0")
    if end < start:
        raise ShapeError(("to",), shape.to, "an end that is not below the start")
    if (end - start) % step:
        raise ShapeError(("to",), shape.to, f"an end that whole steps reach: {shape.from_} plus n times {shape.step}")
    count = int((end - start) / step) + 1
    if count > MOST_ROWS:
        raise ShapeError(("step",), shape.step, f"a step that gives at most {MOST_ROWS} values, not {count}")
    # Whole numbers over one denominator: the same floats as with fractions, and a start-up that nobody waits for.
    denominator = lcm(start.denominator, step.denominator)
    first, each = int(start * denominator), int(step * denominator)
    return [(first + index * each) / denominator for index in range(count)]


def _table(shape: RowsShape) -> Parameter:
    names = tuple(shape.rows[0])
    for index, row in enumerate(shape.rows):
        if tuple(row) != names or not names:
            raise ShapeError(("rows", index), ", ".join(row), f"the same names as in the first row: {', '.join(names)}")
    return Parameter(names, tuple(tuple(_cell(value) for value in row.values()) for row in shape.rows))


def _cell(value: float | str) -> Number:
    """A number stays one; a length with its unit becomes inches; any other text is a word."""
    if not isinstance(value, str):
        return float(value)
    try:
        return float(amount(value))
    except ShapeError:
        return value


def _at(path: tuple[str, ...], given: float | str) -> Fraction:
    try:
        return amount(given)
    except ShapeError as error:
        raise ShapeError(path, error.given, error.accepted) from None
