"""
The step tracer: worked steps from the very source that computes the result.

A calculation is a plain function. `@steps(spacing="in")` says which of its assignments are steps, and in which unit.
`trace` compiles a twin of the same source that notes down, at each of these assignments, the formula, the formula with
the numbers filled in, and the value; the plain function stays as it is and pays nothing. Where a table or a search says
its own step, the function calls `note`, which does nothing in the plain run.

A filled line is honest: worked out as printed, it gives the printed result (`tests/calc/test_honest_steps.py`).

`retrace` runs the same twin and goes on with another value at a step: what a slip at that step leads to in the end.
"""

from __future__ import annotations
import __future__

import ast
import textwrap
from collections.abc import Callable, Mapping, Sequence
from functools import cache
from types import FunctionType
from typing import Any, TypeVar

from trainer.calc.formula import formula_of, names_in
from trainer.calc.held_source import hold_source, source_of
from trainer.calc.recorder import Recorder, Turn, Turner
from trainer.calc.step import Step

__all__ = ["Turn", "hold_sources", "note", "retrace", "steps", "steps_towards", "trace"]

Result = TypeVar("Result")
Function = TypeVar("Function", bound=Callable[..., Any])

_RECORDER = "_recorder"
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


def note(about: str, id: str, /, *rests_on: str, **params: object) -> None:  # noqa: A002 - the sentence's id
    """
    Say a step in words: what was looked up or found, and what it gives.

    Args:
        about: Name of the quantity that the sentence establishes, so that it stays with the steps that use it.
        id: The sentence's id.
        rests_on: Names of the quantities that it draws on, so that their steps stay with it.
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
    recorder = Recorder()
    result: Result = _twin(function)(recorder, **values)
    return result, recorder.lines


def retrace(function: Callable[..., Result], turn: Turn, /, **values: object) -> Result:
    """
    Run a calculation and, at each step, go on with what `turn` makes of its value.

    Args:
        function: A module-level function marked with `@steps`.
        turn: Is asked at each step, in the order in which they run; gives the value back where all is as it should be.
        values: The function's arguments by name.

    Returns:
        The result to which the turned steps lead.

    Raises:
        InputError: As the function does; with a turned value it may fail in other ways too, by ArithmeticError,
            ValueError, TypeError, LookupError or AssertionError.
    """
    result: Result = _twin(function)(Turner(turn), **values)
    return result


def hold_sources() -> None:
    """
    Read the source of every traced function now; each is compiled from it when it is first traced.

    A server does so when it starts: where the program is upgraded under it, what it would read later is another's.
    """
    for module in {module for module, _ in _UNITS}:
        hold_source(module)


def steps_towards(all_steps: Sequence[Step], name: str) -> list[Step]:
    """
    The steps that lead to one quantity, and no others.

    Args:
        all_steps: Steps of one run, in order.
        name: The quantity that is wanted.

    Returns:
        The part of `all_steps` that `name` depends on, in the same order; sentences about these quantities too, and
        what they rest on.
    """
    wanted = {name}
    kept: list[Step] = []
    for step in reversed(all_steps):
        if step.name in wanted:
            wanted |= {*names_in(step.formula), *step.rests_on}
            kept.append(step)
    return kept[::-1]


@cache
def _twin(function: Callable[..., Any]) -> Callable[..., Any]:
    """Compile the twin of a traced function; it takes a recorder before its own arguments."""
    if not isinstance(function, FunctionType):
        raise TypeError(f"{function!r} is no function with a source to trace")
    source, first = source_of(function)
    tree = ast.parse(textwrap.dedent(source))
    definition = tree.body[0]
    if not isinstance(definition, ast.FunctionDef):
        raise TypeError(f"{function!r} is no plain function")
    definition.decorator_list = []
    definition.args.posonlyargs.insert(0, ast.arg(_RECORDER))
    rewriter = _Rewriter(function)
    rewriter.generic_visit(definition)
    if never := rewriter.units.keys() - rewriter.assigned:
        raise TypeError(f"{function.__qualname__} declares steps that it never assigns: {', '.join(sorted(never))}")
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
        self.assigned: set[str] = set()

    def visit_Assign(self, node: ast.Assign) -> ast.AST | list[ast.AST]:
        """Record an assignment to a declared name; leave any other as it is."""
        self.generic_visit(node)
        target = node.targets[0]
        if not isinstance(target, ast.Name) or target.id not in self.units or _calls_twin(node.value):
            return node  # What another traced function works out, that one writes down itself.
        self.assigned.add(target.id)
        formula = formula_of(target.id, self.units[target.id], node.value)
        key = f"_formula_{len(self.constants)}"
        self.constants[key] = formula
        operands = f"_operands = {{{', '.join(f'{name!r}: {name}' for name in formula.names)}}}"
        record = f"{target.id} = {_RECORDER}.step({key}, _operands, {target.id})"
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


def _units_of(function: FunctionType) -> Mapping[str, str]:
    units = _UNITS.get((function.__module__, function.__qualname__))
    if units is None:
        raise TypeError(f"{function.__qualname__} does not say its steps: mark it with @steps")
    return units


def _calls_twin(expression: ast.expr) -> bool:
    names = (part.id for part in ast.walk(expression) if isinstance(part, ast.Name))
    return any(name.startswith("_twin_") for name in names)


def _statement(source: str, at: ast.AST) -> ast.stmt:
    statement = ast.parse(source).body[0]
    for part in ast.walk(statement):
        ast.copy_location(part, at)
    return statement
