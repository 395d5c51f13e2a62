"""A step's formula: as written, and with numbers in the place of its names."""

from __future__ import annotations

import ast
import re
from collections.abc import Callable, Mapping
from functools import cache
from itertools import groupby

from msgspec import Struct

from trainer.calc.step import write_number
from trainer.calc.trig import FUNCTIONS, pi

__all__ = ["KNOWN", "Formula", "Operands", "formula_of", "names_in"]

#: What a printed formula may name besides quantities.
KNOWN: Mapping[str, object] = {**FUNCTIONS, "pi": pi, "sum": sum}

#: Numbers that a formula's names stand for; a list of them where it takes their `sum`.
Operands = Mapping[str, float | tuple[float, ...]]

_FEWEST_PLACES, _MOST_PLACES = 4, 12
_HALF_OF_THE_LAST_PLACE = 0.5000001e-4
#: A number by itself in brackets that no function takes: what is left of a sum of one.
_LONE = re.compile(r"(?<![a-z_])\(([0-9.]+)\)")
_ARITHMETIC = (ast.BinOp, ast.UnaryOp, ast.operator, ast.unaryop, ast.Call, ast.Name, ast.Load, ast.Constant)


class Formula(Struct, frozen=True):
    """
    An assignment that is a step.

    Args:
        target: What it works out.
        unit: Unit of that.
        written: Its right side.
        template: The same with places for numbers.
        names: The quantities in it, each once.
        work_out: Works it out for numbers in the order of `names`.
    """

    target: str
    unit: str
    written: str
    template: str
    names: tuple[str, ...]
    work_out: Callable[..., float]

    def filled(self, operands: Operands, value: float) -> str:
        """The formula with its numbers, each with as few decimals as make the line true as printed."""
        places = _FEWEST_PLACES
        shown = float(write_number(value))
        while places < _MOST_PLACES and not self._comes_to(shown, operands, places):
            places += 1
        filled = self.template.format_map({name: _written(operand, places) for name, operand in operands.items()})
        return _LONE.sub(r"\1", filled)

    def _comes_to(self, shown: float, operands: Operands, places: int) -> bool:
        """Whether the line with so many decimals, worked out as a reader would, rounds to the result that is shown."""
        try:
            worked_out = float(self.work_out(*(_rounded(operands[name], places) for name in self.names)))
        except (ArithmeticError, ValueError):
            return False  # Rounded too far: a small divisor has become 0, a ratio more than 1.
        return abs(worked_out - shown) < _HALF_OF_THE_LAST_PLACE


def _rounded(operand: float | tuple[float, ...], places: int) -> float | tuple[float, ...]:
    """A number, or each of several, as `_written` writes it."""
    if isinstance(operand, tuple):
        return tuple(round(term, places) for term in operand)
    return round(operand, places)


def _written(operand: float | tuple[float, ...], places: int) -> str:
    """A number, in brackets when it is below zero; the numbers of a list added: `90 + 90 + 30`, `8 * 47 + 3`."""
    if not isinstance(operand, tuple):
        number = write_number(operand, places)
        return f"({number})" if number.startswith("-") else number
    terms: list[str] = []
    for term, equal in groupby(operand):
        times = len(list(equal))
        written = _written(term, places)
        terms += [f"{times} * {written}"] if times > 3 else [written] * times
    return " + ".join(terms) or "0"


def formula_of(target: str, unit: str, expression: ast.expr) -> Formula:
    """
    The formula of an assignment.

    Raises:
        TypeError: When it is more than arithmetic with names, numbers and the core's functions.
    """
    written = ast.unparse(expression)
    for part in ast.walk(expression):
        if not isinstance(part, _ARITHMETIC) or (isinstance(part, ast.Call) and not _is_known(part)):
            raise TypeError(f"{target} = {written} is no plain arithmetic")
    template = ast.unparse(_Places().visit(ast.parse(written, mode="eval")))
    names = names_in(written)
    return Formula(target, unit, written, template, names, _function(names, written))


def _function(names: tuple[str, ...], written: str) -> Callable[..., float]:
    """The formula as a function of its quantities."""
    source = f"lambda {', '.join(names)}: {written}"
    found: Callable[..., float] = eval(source, {"__builtins__": {}, **KNOWN})  # noqa: S307 - the core's own formulas
    return found


@cache
def names_in(formula: str) -> tuple[str, ...]:
    """Names of the quantities in a formula, each once; none in an empty one."""
    parts = ast.walk(ast.parse(formula))
    return tuple({part.id: None for part in parts if isinstance(part, ast.Name) and part.id not in KNOWN})


def _is_known(call: ast.Call) -> bool:
    return isinstance(call.func, ast.Name) and call.func.id in KNOWN


class _Places(ast.NodeTransformer):
    """Puts a place for a number, `{depth}`, where a formula has a name; `sum(pieces)` becomes the place of its terms."""

    def visit_Name(self, node: ast.Name) -> ast.Name:
        """A quantity becomes a place; functions and pi stay."""
        return node if node.id in KNOWN else ast.Name(f"{{{node.id}}}", ast.Load())

    def visit_Call(self, node: ast.Call) -> ast.AST:
        """A sum is written out; `visit_BinOp` sees to its brackets."""
        self.generic_visit(node)
        return node.args[0] if _is_sum(node) else node

    def visit_BinOp(self, node: ast.BinOp) -> ast.AST:
        """Bracket the terms of a sum where they stand in a product, or behind a minus."""
        open_sides = {ast.Add: ("left", "right"), ast.Sub: ("left",)}.get(type(node.op), ())
        bracketed = [side for side in ("left", "right") if side not in open_sides and _is_sum(getattr(node, side))]
        self.generic_visit(node)
        for side in bracketed:
            place = getattr(node, side)
            setattr(node, side, ast.Name(f"({place.id})", ast.Load()))
        return node

    def visit_UnaryOp(self, node: ast.UnaryOp) -> ast.AST:
        """Bracket the terms of a sum behind a minus."""
        bracketed = _is_sum(node.operand)
        self.generic_visit(node)
        if bracketed and isinstance(node.operand, ast.Name):
            node.operand = ast.Name(f"({node.operand.id})", ast.Load())
        return node


def _is_sum(node: ast.AST) -> bool:
    return isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "sum"
