"""
The step tracer: worked steps from the very source that computes the result.

A calculation is a plain function. `@steps(spacing="in")` says which of its assignments are steps, and in which unit.
`trace` compiles a twin of the same source that notes down, at each of these assignments, the formula, the formula with
the numbers filled in, and the value; the plain function stays as it is and pays nothing. Where a table or a search says
its own step, the function calls `note`, which does nothing in the plain run.

A filled line is honest: worked out as printed, it gives the printed result (`tests/calc/test_honest_steps.py`).
"""

from __future__ import annotations
import __future__

import ast
import inspect
import textwrap
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from itertools import groupby
from types import FunctionType
from typing import Any, TypeVar

from trainer.calc.message import Message
from trainer.calc.step import Step, write_number
from trainer.calc.trig import FUNCTIONS, pi

__all__ = ["note", "steps", "steps_towards", "trace"]

Result = TypeVar("Result")
Function = TypeVar("Function", bound=Callable[..., Any])

#: Numbers that a formula's names stand for; a list of them where it takes their `sum`.
_Operands = Mapping[str, float | tuple[float, ...]]

_RECORDER = "_recorder"
_MOST_PLACES = 12
_ARITHMETIC = (ast.BinOp, ast.UnaryOp, ast.operator, ast.unaryop, ast.Call, ast.Name, ast.Load, ast.Constant)

#: Units of the steps of each traced function, by the function's module and name.
_UNITS: dict[tuple[str, str], Mapping[str, str]] = {}


def steps(**units: str) -> Callable[[Function], Function]:
    """
    Say which assignments of a function are its worked steps, and in which unit each is.

    The function itself is given back unchanged.
    """

    def remember(function: Function) -> Function:
        _UNITS[function.__module__, function.__qualname__] = units
        return function

    return remember


def note(about: str, id: str, /, **params: object) -> None:  # noqa: A002 - the sentence's id
    """
    Say a step in words: what was looked up or found, and what it gives.

    Args:
        about: Name of the quantity that the sentence establishes, so that it stays with the steps that use it.
        id: The sentence's id.
        params: What its placeholders are filled with.

    Only the twin collects it; called plainly it does nothing.
    """


def trace(function: Callable[..., Result], /, **values: object) -> tuple[Result, list[Step]]:
    """
    Run a calculation and write down its steps.

    Args:
        function: A module-level function marked with `@steps`.
        values: Its arguments by name.

    Returns:
        Its result, the same to the last bit as from a plain call, and its steps in the order in which they ran.

    Raises:
        InputError: As the function does.
    """
    recorder = _Recorder([])
    result: Result = _twin(function)(recorder, **values)
    return result, recorder.lines


def steps_towards(all_steps: Sequence[Step], name: str) -> list[Step]:
    """
    The steps that lead to one quantity, and no others.

    Args:
        all_steps: Steps of one run, in order.
        name: The quantity that is wanted.

    Returns:
        The part of `all_steps` that `name` depends on, in the same order; sentences about these quantities too.
    """
    wanted = {name}
    kept: list[Step] = []
    for step in reversed(all_steps):
        if step.name in wanted:
            wanted |= _names_in(step.formula)
            kept.append(step)
    return kept[::-1]


def _names_in(formula: str) -> set[str]:
    if not formula:
        return set()
    return {node.id for node in ast.walk(ast.parse(formula)) if isinstance(node, ast.Name)} - _KNOWN.keys()


#: What a printed formula may name besides quantities.
_KNOWN: Mapping[str, object] = {**FUNCTIONS, "pi": pi, "sum": sum}


@dataclass(frozen=True, slots=True)
class _Formula:
    """An assignment that is a step: its target, unit, right side and the names on that side."""

    target: str
    unit: str
    expression: ast.expr
    names: tuple[str, ...]


@dataclass(slots=True)
class _Recorder:
    """Collects the steps of one run of a twin."""

    lines: list[Step] = field(default_factory=list)

    def note(self, about: str, id: str, /, **params: object) -> None:  # noqa: A002 - as in `note`
        self.lines.append(Step(about, "", "", None, "", Message(id, params)))

    def step(self, formula: _Formula, operands: _Operands, value: float | None) -> None:
        """Write one line; None is no result, and a constant no calculation."""
        if value is None or not formula.names:
            return
        filled = _filled(formula.expression, operands, value)
        self.lines.append(Step(formula.target, ast.unparse(formula.expression), filled, float(value), formula.unit))


def _filled(expression: ast.expr, operands: _Operands, value: float) -> str:
    """The formula with its numbers, each with as few decimals as make the line true as printed."""
    text = ""
    for places in range(4, _MOST_PLACES + 1):
        text = ast.unparse(_Fill(operands, places).visit(ast.parse(ast.unparse(expression), mode="eval").body))
        if write_number(_worked_out(text)) == write_number(value):
            break
    return text


def _worked_out(text: str) -> float:
    """Work a filled line out as a reader would."""
    code = compile(ast.parse(text, mode="eval"), "<step>", "eval")
    return float(eval(code, {"__builtins__": {}, **_KNOWN}))  # noqa: S307 - unparsed from the core's own source


class _Fill(ast.NodeTransformer):
    """Puts written numbers in the place of names; one below zero stands in brackets."""

    def __init__(self, operands: _Operands, places: int) -> None:
        self.operands = operands
        self.places = places

    def visit_Name(self, node: ast.Name) -> ast.Name:
        """Replace the name of a quantity; functions and pi stay."""
        operand = self.operands.get(node.id)
        if operand is None:
            return node
        written = self._sum(operand) if isinstance(operand, tuple) else write_number(operand, self.places)
        return ast.Name(f"({written})" if written.startswith("-") else written, ast.Load())

    def visit_Call(self, node: ast.Call) -> ast.AST:
        """Write a sum out: `sum(angles)` becomes 90 + 90 + 30."""
        self.generic_visit(node)
        if isinstance(node.func, ast.Name) and node.func.id == "sum":
            return ast.parse(ast.unparse(node.args[0]), mode="eval").body
        return node

    def _sum(self, numbers: tuple[float, ...]) -> str:
        """`90 + 90 + 30`; four equal ones and more in a row as `8 * 47`."""
        runs = [(number, len(list(run))) for number, run in groupby(numbers)]
        terms: list[str] = []
        for number, times in runs:
            written = write_number(number, self.places)
            terms += [f"{times} * {written}"] if times > 3 else [written] * times
        return " + ".join(terms) or "0"


@cache
def _twin(function: Callable[..., Any]) -> Callable[..., Any]:
    """Compile the twin of a traced function; it takes a recorder before its own arguments."""
    if not isinstance(function, FunctionType):
        raise TypeError(f"{function!r} is no function with a source to trace")
    lines, first = inspect.getsourcelines(function)
    tree = ast.parse(textwrap.dedent("".join(lines)))
    definition = tree.body[0]
    if not isinstance(definition, ast.FunctionDef):
        raise TypeError(f"{function!r} is no plain function")
    definition.decorator_list = []
    definition.args.posonlyargs.insert(0, ast.arg(_RECORDER))
    rewriter = _Rewriter(function)
    rewriter.generic_visit(definition)
    ast.increment_lineno(ast.fix_missing_locations(tree), first - 1)
    namespace = {**function.__globals__, **rewriter.constants}
    code = compile(tree, function.__code__.co_filename, "exec", __future__.annotations.compiler_flag, dont_inherit=True)
    exec(code, namespace)  # noqa: S102 - the core's own source, rewritten above
    twin = namespace[function.__name__]
    twin.__kwdefaults__, twin.__defaults__ = function.__kwdefaults__, function.__defaults__
    return twin  # type: ignore[no-any-return]


class _Rewriter(ast.NodeTransformer):
    """Turns the source of a traced function into that of its twin."""

    def __init__(self, function: FunctionType) -> None:
        self.function = function
        self.units = _units_of(function)
        #: Formulas and twins that the rewritten source refers to.
        self.constants: dict[str, object] = {}

    def visit_Assign(self, node: ast.Assign) -> ast.AST | list[ast.AST]:
        """Record an assignment to a declared name; leave any other as it is."""
        self.generic_visit(node)
        target = node.targets[0]
        if not isinstance(target, ast.Name) or target.id not in self.units or _calls_twin(node.value):
            return node  # What another traced function works out, that one writes down itself.
        formula = self._formula(target.id, node.value)
        key = f"_formula_{len(self.constants)}"
        self.constants[key] = formula
        operands = f"_operands = {{{', '.join(f'{name!r}: {name}' for name in formula.names)}}}"
        record = f"{_RECORDER}.step({key}, _operands, {target.id})"
        return [_statement(operands, node), node, _statement(record, node)]

    def visit_AugAssign(self, node: ast.AugAssign) -> ast.AST:
        """Refuse `total += angle` for a step: its formula would not show what it adds to."""
        if isinstance(node.target, ast.Name) and node.target.id in self.units:
            raise TypeError(f"{self.function.__name__}: write {node.target.id} = {node.target.id} ..., not +=")
        return node

    def visit_Call(self, node: ast.Call) -> ast.AST:
        """Send notes to the recorder, and calls of other traced functions to their twins."""
        self.generic_visit(node)
        if not isinstance(node.func, ast.Name):
            return node
        called = self.function.__globals__.get(node.func.id)
        if called is note:
            node.func = ast.Attribute(ast.Name(_RECORDER, ast.Load()), "note", ast.Load())
        elif isinstance(called, FunctionType) and (called.__module__, called.__qualname__) in _UNITS:
            self.constants[f"_twin_{called.__name__}"] = _twin(called)
            node.func = ast.Name(f"_twin_{called.__name__}", ast.Load())
            node.args.insert(0, ast.Name(_RECORDER, ast.Load()))
        return node

    def _formula(self, target: str, expression: ast.expr) -> _Formula:
        for part in ast.walk(expression):
            if not isinstance(part, _ARITHMETIC) or (isinstance(part, ast.Call) and not _is_known(part)):
                raise TypeError(
                    f"{self.function.__name__}: {target} = {ast.unparse(expression)} is no plain arithmetic"
                )
        used = {part.id: None for part in ast.walk(expression) if isinstance(part, ast.Name) and part.id not in _KNOWN}
        return _Formula(target, self.units[target], expression, tuple(used))


def _units_of(function: FunctionType) -> Mapping[str, str]:
    units = _UNITS.get((function.__module__, function.__qualname__))
    if units is None:
        raise TypeError(f"{function.__qualname__} does not say its steps: mark it with @steps")
    return units


def _is_known(call: ast.Call) -> bool:
    return isinstance(call.func, ast.Name) and call.func.id in _KNOWN


def _calls_twin(expression: ast.expr) -> bool:
    names = (part.id for part in ast.walk(expression) if isinstance(part, ast.Name))
    return any(name.startswith("_twin_") for name in names)


def _statement(source: str, at: ast.AST) -> ast.stmt:
    statement = ast.parse(source).body[0]
    for part in ast.walk(statement):
        ast.copy_location(part, at)
    return statement
