"""
What people do wrong with a formula: each change is the formula of a worked step with one thing in it done otherwise.

The changes know nothing of tubing: a sine taken for a tangent, something added that should be taken off, a factor left
out, a root not drawn, a count rounded the other way, a list of which each size was counted once.
"""

from __future__ import annotations

import ast
from collections.abc import Callable, Iterator, Mapping
from functools import lru_cache
from types import CodeType

from msgspec import Struct

from trainer.calc.formula import KNOWN

__all__ = ["FUNCTIONS_OF_SLIPS", "Change", "changes", "work_out"]

Numbers = tuple[float, ...]


class Change(Struct, frozen=True):
    """A formula with one thing done otherwise, and what that is, in words."""

    did: str
    formula: str


def _each_once(numbers: Numbers) -> float:
    return sum(dict.fromkeys(numbers))


def _all_as_largest(numbers: Numbers) -> float:
    return len(numbers) * max(numbers)


def _all_as_smallest(numbers: Numbers) -> float:
    return len(numbers) * min(numbers)


def _without_largest(numbers: Numbers) -> float:
    return sum(numbers) - max(numbers)


def _without_smallest(numbers: Numbers) -> float:
    return sum(numbers) - min(numbers)


#: Functions of lists that stand in a changed formula, and what was done, in words.
_OF_LISTS: Mapping[str, tuple[Callable[[Numbers], float], str]] = {
    "each_once": (_each_once, "each different one of {} counted once"),
    "all_as_largest": (_all_as_largest, "all of {} taken as the largest"),
    "all_as_smallest": (_all_as_smallest, "all of {} taken as the smallest"),
    "without_largest": (_without_largest, "the largest of {} left out"),
    "without_smallest": (_without_smallest, "the smallest of {} left out"),
}

#: What a changed formula may call besides what a worked step may.
FUNCTIONS_OF_SLIPS: Mapping[str, Callable[..., float]] = {
    "nearest": lambda value: float(round(value)),
    "to_tenths": lambda value: round(value, 1),
    **{name: function for name, (function, _) in _OF_LISTS.items()},
}

_WORDS = {
    "sin": "sine",
    "cos": "cosine",
    "tan": "tangent",
    "asin": "arc sine",
    "acos": "arc cosine",
    "atan": "arc tangent",
}
_SIBLINGS = (("sin", "cos", "tan"), ("asin", "acos", "atan"))


@lru_cache(maxsize=1024)
def changes(formula: str) -> tuple[Change, ...]:
    """
    Every change of a formula, each once.

    >>> [change.formula for change in changes("distance + shrink")][:3]
    ['distance - shrink', 'distance', 'shrink']
    """
    found: dict[str, Change] = {}
    for at, node in enumerate(ast.walk(ast.parse(formula, mode="eval"))):
        for did, instead in _alternatives(node):
            changed = _changed(formula, at, instead)
            if changed != formula:
                found.setdefault(changed, Change(did, changed))
    return tuple(found.values())


def work_out(formula: str, numbers: Mapping[str, object]) -> float:
    """
    A changed formula with these numbers.

    Raises:
        ArithmeticError, ValueError, TypeError, NameError: When it has no value with them.
    """
    value: float = eval(_code(formula), _GLOBALS, dict(numbers))  # noqa: S307 - the core's own formulas, changed above
    return value


@lru_cache(maxsize=4096)
def _code(formula: str) -> CodeType:
    return compile(formula, "<changed step>", "eval")


_GLOBALS: dict[str, object] = {"__builtins__": {}, **KNOWN, **FUNCTIONS_OF_SLIPS}

Alternative = tuple[str, ast.expr]


def _changed(formula: str, at: int, instead: ast.expr) -> str:
    """The formula with another node at one place of the walk."""
    tree = ast.parse(formula, mode="eval")
    node = list(ast.walk(tree))[at]
    return ast.unparse(ast.fix_missing_locations(_Put(node, instead).visit(tree)))


class _Put(ast.NodeTransformer):
    """Puts one node in another's place."""

    def __init__(self, old: ast.AST, new: ast.AST) -> None:
        self.old = old
        self.new = new

    def visit(self, node: ast.AST) -> ast.AST:
        """The new node in the old one's place; what is inside the others too."""
        return self.new if node is self.old else self.generic_visit(node)


def _alternatives(node: ast.AST) -> Iterator[Alternative]:
    match node:
        case ast.BinOp():
            yield from _of_arithmetic(node)
        case ast.Call(func=ast.Name(id=name)):
            yield from _of_call(node, name)
        case ast.Constant(value=12):
            yield "reckoned with 10 for 12", ast.Constant(10)
        case ast.Name(id=name) if name not in KNOWN:
            yield f"{name} rounded to a whole number first", _parsed(f"nearest({name})")


def _of_arithmetic(node: ast.BinOp) -> Iterator[Alternative]:
    left, right = ast.unparse(node.left), ast.unparse(node.right)
    match node.op:
        case ast.Add():
            yield f"{right} taken off and not added", _parsed(f"({left} - ({right}))")
            yield f"{right} left out", node.left
            yield f"{left} left out", node.right
            yield f"{right} added twice", _parsed(f"({left} + 2 * ({right}))")
        case ast.Sub():
            yield f"{right} added and not taken off", _parsed(f"({left} + {right})")
            yield f"{right} left out", node.left
            yield f"only {right}", node.right
            yield f"{right} taken off twice", _parsed(f"({left} - 2 * ({right}))")
        case ast.Mult():
            yield f"not times {right}", node.left
            yield f"not times {left}", node.right
            if not isinstance(node.right, ast.Constant):
                yield f"divided by {right} and not multiplied", _parsed(f"(({left}) / ({right}))")
        case ast.Div():
            yield f"not divided by {right}", node.left
            if not isinstance(node.right, ast.Constant):
                yield f"multiplied by {right} and not divided", _parsed(f"(({left}) * ({right}))")
            if isinstance(node.left, ast.Name) and isinstance(node.right, ast.Name):
                yield f"{right} divided by {left}", _parsed(f"({right} / {left})")


def _of_call(node: ast.Call, name: str) -> Iterator[Alternative]:
    given = [ast.unparse(argument) for argument in node.args]
    for siblings in _SIBLINGS:
        for other in siblings if name in siblings else ():
            if other != name:
                yield f"{_WORDS[other]} for {_WORDS[name]}", _parsed(f"{other}({given[0]})")
    if name in _SIBLINGS[0]:
        yield f"{_WORDS[name]} rounded to tenths", _parsed(f"to_tenths({name}({given[0]}))")
        if isinstance(node.args[0], ast.BinOp) and isinstance(node.args[0].op, ast.Div):
            whole = ast.unparse(node.args[0].left)
            yield f"the whole {whole} and not half of it", _parsed(f"{name}({whole})")
        else:
            yield f"half of {given[0]} and not all of it", _parsed(f"{name}({given[0]} / 2)")
    match name:
        case "sqrt":
            yield "root not drawn", node.args[0]
        case "round_up" | "round_down":
            other = "round_down" if name == "round_up" else "round_up"
            yield f"rounded {other.removeprefix('round_')}", _parsed(f"{other}({given[0]})")
            yield "rounded to the nearest", _parsed(f"nearest({given[0]})")
        case "min" | "max":
            for one, argument in zip(given, node.args, strict=True):
                yield f"{one} taken, whichever is right", argument
        case "sum":
            for function, (_, did) in _OF_LISTS.items():
                yield did.format(given[0]), _parsed(f"{function}({given[0]})")


def _parsed(formula: str) -> ast.expr:
    return ast.parse(formula, mode="eval").body
