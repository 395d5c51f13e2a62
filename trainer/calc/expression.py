"""
Formulas in question files: arithmetic and nothing else, compiled once, evaluated fast.

What may stand in one: numbers in plain digits, the file's own names, `+ - * / // %`, power 2 or 3, one comparison,
`a if condition else b`, and the functions of `trainer.calc.trig`. Everything else is refused before Python compiles
it, so a file can neither reach anything nor take long. Values are floats.
"""

from __future__ import annotations

import ast
import keyword
import math
import re
from collections.abc import Collection, Mapping
from functools import lru_cache
from types import CodeType

from trainer.calc.message import InputError, Message
from trainer.calc.trig import FUNCTIONS

__all__ = ["Expression", "ExpressionError", "compile_expression"]

LONGEST = 400
MOST_NODES = 80

_CHARACTERS = re.compile(r"[A-Za-z0-9_ \t\n+*/%().,<>=!-]*")
_WORD_OR_NUMBER = re.compile(r"[A-Za-z_][A-Za-z0-9_]*|[0-9.][A-Za-z0-9_.]*")
_NUMBER = re.compile(r"[0-9]{1,15}(\.[0-9]{0,15})?|\.[0-9]{1,15}")
_NAME = re.compile(r"[a-z][a-z0-9_]{0,60}")

_ARITHMETIC = (ast.Add, ast.Sub, ast.Mult, ast.Div, ast.FloorDiv, ast.Mod, ast.Pow)
_COMPARISONS = (ast.Lt, ast.LtE, ast.Gt, ast.GtE, ast.Eq, ast.NotEq)
_ALLOWED = (
    ast.Expression, ast.Load, ast.Constant, ast.Name, ast.BinOp, ast.UnaryOp, ast.USub, ast.UAdd, ast.Compare,
    ast.IfExp, ast.Call, *_ARITHMETIC, *_COMPARISONS,
)  # fmt: skip


class ExpressionError(InputError):
    """A formula that is not one, or that has no value with these numbers."""


def _refuse(text: str, reason: str, **params: object) -> ExpressionError:
    return ExpressionError(
        Message(f"expression.{reason}", params),
        given=text if len(text) <= LONGEST else text[:40],
        accepted=Message("expression.accepted"),
        example="depth / sin(angle)",
    )


class Expression:
    """
    A compiled formula; call it with the values of its names.

    Attributes:
        text: As written.
        names: The names that it uses, functions left out.
    """

    __slots__ = ("_code", "names", "text")

    def __init__(self, text: str, names: frozenset[str], code: CodeType) -> None:
        self.text = text
        self.names = names
        self._code = code

    def __repr__(self) -> str:
        return f"Expression({self.text!r})"

    def __call__(self, values: Mapping[str, object]) -> float | bool:
        """
        The value with these numbers: a float, or True or False for a comparison.

        Args:
            values: A number for each of `names`; others may be there too.

        Raises:
            ExpressionError: When a name has no number, or there is no finite result: division by zero, a root or
                an angle that does not exist, a value too large.
        """
        numbers = {name: self._number(name, values) for name in self.names}
        try:
            result = eval(self._code, _GLOBALS, numbers)  # noqa: S307 - only whitelisted code gets here
            return self._finite(result)
        except ZeroDivisionError:
            raise _refuse(self.text, "division-by-zero") from None
        except (ValueError, OverflowError, TypeError):
            raise _refuse(self.text, "no-value") from None

    def _number(self, name: str, values: Mapping[str, object]) -> float:
        value = values.get(name)
        if not isinstance(value, int | float):
            raise _refuse(self.text, "name-without-number", name=name)
        return float(value)

    @staticmethod
    def _finite(result: float | bool) -> float | bool:
        if isinstance(result, bool):
            return result
        if not math.isfinite(result):
            raise OverflowError
        return float(result)


_GLOBALS: dict[str, object] = {"__builtins__": {}, **FUNCTIONS}


def compile_expression(text: str, names: Collection[str]) -> Expression:
    """
    Compile a formula.

    Args:
        text: The formula, at most 400 characters.
        names: Names that it may use: lower case, none of them a function's.

    Raises:
        ExpressionError: When it holds anything that a formula does not need.

    >>> compile_expression("depth / sin(angle)", ["depth", "angle"])({"depth": 6.5, "angle": 90})
    6.5
    """
    _check_names(text, names)
    _check_text(text)
    tree = _parse(text)
    nodes = list(ast.walk(tree))
    if len(nodes) > MOST_NODES:
        raise _refuse(text, "too-many-parts", limit=MOST_NODES)
    for node in nodes:
        _check_node(node, text, names)
    _check_places(tree, nodes, text)
    used = frozenset(node.id for node in nodes if isinstance(node, ast.Name) and node.id not in FUNCTIONS)
    return Expression(text, used, compile(tree, "<formula>", "eval"))


def _check_names(text: str, names: Collection[str]) -> None:
    for name in names:
        if not _is_usable(name):
            raise _refuse(text, "bad-name", name=name)


@lru_cache(maxsize=4096)
def _is_usable(name: str) -> bool:
    """Cached: the formulas of a file use the same names over and over."""
    return bool(_NAME.fullmatch(name)) and not keyword.iskeyword(name) and name not in FUNCTIONS


def _check_text(text: str) -> None:
    """Refuse by its letters what Python should not even parse: long texts, strings, brackets, odd numbers."""
    if len(text) > LONGEST:
        raise _refuse(text, "too-long", limit=LONGEST)
    if not text.strip():
        raise _refuse(text, "empty")
    if not _CHARACTERS.fullmatch(text):
        raise _refuse(text, "characters")
    for word in _WORD_OR_NUMBER.findall(text):
        if word[0] in "0123456789." and not _NUMBER.fullmatch(word):
            raise _refuse(text, "number", number=word)


def _parse(text: str) -> ast.Expression:
    try:
        return ast.parse(text.strip(), mode="eval")
    except (SyntaxError, ValueError, RecursionError, MemoryError):
        raise _refuse(text, "not-understood") from None


def _check_node(node: ast.AST, text: str, names: Collection[str]) -> None:
    if isinstance(node, ast.Name):
        if node.id not in names and node.id not in FUNCTIONS:
            raise _refuse(text, "unknown-name", name=node.id, names=", ".join(sorted(names)))
    elif isinstance(node, ast.Constant):
        _check_constant(node, text)
    elif isinstance(node, ast.Call):
        _check_call(node, text)
    elif isinstance(node, ast.BinOp) and isinstance(node.op, ast.Pow):
        if not (isinstance(node.right, ast.Constant) and node.right.value in {2, 3}):
            raise _refuse(text, "power")
    elif isinstance(node, ast.Compare) and len(node.ops) > 1:
        raise _refuse(text, "chained-comparison")
    elif not isinstance(node, _ALLOWED):
        raise _refuse(text, "not-arithmetic", part=type(node).__name__)


def _check_places(tree: ast.Expression, nodes: list[ast.AST], text: str) -> None:
    """A function stands only where it is called; a comparison is the whole formula or the condition of an `if`."""
    called = {id(node.func) for node in nodes if isinstance(node, ast.Call)}
    conditions = {id(node.test) for node in nodes if isinstance(node, ast.IfExp)} | {id(tree.body)}
    for node in nodes:
        if isinstance(node, ast.Name) and node.id in FUNCTIONS and id(node) not in called:
            raise _refuse(text, "function-not-called", function=node.id)
        if isinstance(node, ast.Compare) and id(node) not in conditions:
            raise _refuse(text, "comparison-place")
        if isinstance(node, ast.IfExp) and not isinstance(node.test, ast.Compare):
            raise _refuse(text, "condition")


def _check_constant(node: ast.Constant, text: str) -> None:
    """Make every number a float, so that no whole number grows without bound; True and None are no numbers."""
    if isinstance(node.value, bool) or not isinstance(node.value, int | float):
        raise _refuse(text, "not-arithmetic", part=str(node.value))
    node.value = float(node.value)


def _check_call(node: ast.Call, text: str) -> None:
    if not isinstance(node.func, ast.Name) or node.func.id not in FUNCTIONS:
        raise _refuse(text, "unknown-function", functions=", ".join(FUNCTIONS))
    if node.keywords or not node.args:
        raise _refuse(text, "arguments", function=node.func.id)
