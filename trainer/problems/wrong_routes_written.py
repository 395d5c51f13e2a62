"""A wrong route as one expression that a question file takes: the steps put into each other from the turned one on."""

from __future__ import annotations

import ast
from collections.abc import Callable, Mapping
from functools import lru_cache

from trainer.calc.expression import Expression, ExpressionError, compile_expression
from trainer.calc.formula import KNOWN
from trainer.problems.parts import Family
from trainer.problems.wrong_routes import Attempt, Place, Route
from trainer.problems.wrong_routes_changes import FUNCTIONS_OF_SLIPS

__all__ = ["expression_of", "is_worth"]

NEAR = 1e-9


def expression_of(route: Route, output: str, on: Attempt) -> str:
    """
    What may be pasted as a known mistake's `value`; "" where a number in it has no name in the file.

    Args:
        route: The route.
        output: The output that it leads to.
        on: A problem with its way, which gives the steps.
    """
    if route.place is Place.GIVEN:
        return ""
    try:
        tree = _Writer(route, output, on).written(output)
    except _NoNameError:
        return ""
    return ast.unparse(ast.fix_missing_locations(tree))


def is_worth(expression: str, value: float, on: Attempt) -> bool:
    """Whether a question file takes an expression and gets this value of it."""
    known = {**on.problem.outputs, **{k: v for k, v in on.problem.numbers.items() if not isinstance(v, str)}}
    try:
        return abs(_compiled(expression, _names_of(on.family))(known) - value) < NEAR * max(1.0, abs(value))
    except ExpressionError:
        return False


@lru_cache(maxsize=4096)
def _compiled(expression: str, names: frozenset[str]) -> Expression:
    return compile_expression(expression, names)


def _names_of(family: Family) -> frozenset[str]:
    drawn = {name for parameter in family.parameters for name in parameter.names}
    outputs = {output.name for output in family.calculation.outputs}
    return frozenset({*drawn, *outputs, *family.facts})


class _NoNameError(LookupError):
    """A number of the route has no name that a question file could use."""


class _Writer:
    """Writes names of the file as they are, and steps that the turn changes as what they are worked out from."""

    def __init__(self, route: Route, output: str, on: Attempt) -> None:
        self.route = route
        self.output = output
        self.on = on
        self.names = _names_of(on.family) & on.numbers.keys()
        self.formulas: Mapping[str, str] = {formula.target: formula.written for formula, _ in on.steps}
        self.turned = self._turned()

    def _turned(self) -> frozenset[str]:
        """The steps that come out otherwise: the turned one and all that rest on it."""
        if self.route.place is Place.ANSWER:
            return frozenset({self.output})
        turned = {self.route.name}
        for formula, _ in self.on.steps:
            if turned & {*formula.names}:
                turned.add(formula.target)
        return frozenset(turned)

    def written(self, name: str) -> ast.expr:
        """The expression for one quantity on the wrong route."""
        if name not in self.turned:
            return self.right(name)
        if name == self.route.name or self.route.place is Place.ANSWER:
            return self._filled(self.route.formula, self.right)
        return self._filled(self.formulas[name], self.written)

    def right(self, name: str) -> ast.expr:
        """The expression for one quantity as it should be: whatever is worked out before the turn."""
        name = self.output if name == "answer" else name
        if name in self.names:
            return ast.Name(name)
        if name in self.formulas and name not in self.turned:
            return self._filled(self.formulas[name], self.right)
        return self._drawn_as(name)

    def _filled(self, formula: str, expression: Callable[[str], ast.expr]) -> ast.expr:
        filled: ast.expr = _Filler(expression).visit(ast.parse(formula, mode="eval").body)
        return filled

    def _drawn_as(self, name: str) -> ast.expr:
        """What an input is drawn as that the file gives by one place of a text: `angle = "{{ bend | number }}"`."""
        places = self.on.family.inputs[name].places if name in self.on.family.inputs else ()
        if len(places) == 1 and self.on.numbers.get(places[0].name) == self.on.numbers.get(name, object()):
            return ast.Name(places[0].name)
        raise _NoNameError(name)


class _Filler(ast.NodeTransformer):
    """Puts an expression in the place of each quantity of a formula."""

    def __init__(self, expression: Callable[[str], ast.expr]) -> None:
        self.expression = expression

    def visit_Name(self, node: ast.Name) -> ast.expr:
        """A function stays as it is."""
        return node if node.id in KNOWN or node.id in FUNCTIONS_OF_SLIPS else self.expression(node.id)
