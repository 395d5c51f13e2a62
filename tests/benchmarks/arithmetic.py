"""
The arithmetic of a calculation by itself: its printed steps put together into one function of bare floats, and the same
function on pint quantities. Nothing else is in it: no range is checked, no table read, no mark made, no text written.
"""

from __future__ import annotations

import ast
import math

import pint

from trainer.calc.formula import KNOWN

REGISTRY = pint.UnitRegistry()

BARE = {
    "pi": math.pi,
    "sin": lambda angle: math.sin(math.radians(angle)),
    "cos": lambda angle: math.cos(math.radians(angle)),
    "tan": lambda angle: math.tan(math.radians(angle)),
    "csc": lambda angle: 1 / math.sin(math.radians(angle)),
    "asin": lambda ratio: math.degrees(math.asin(ratio)),
    "acos": lambda ratio: math.degrees(math.acos(ratio)),
    "atan": lambda ratio: math.degrees(math.atan(ratio)),
    "sqrt": math.sqrt,
    "round_up": lambda value: math.ceil(round(value, 8)),
    "round_down": lambda value: math.floor(round(value, 8)),
}


def quantity(number):
    """A pint quantity that needs no conversion: the least that pint can ask for."""
    return REGISTRY.Quantity(number, "")


def on_quantities(function):
    return lambda *values: quantity(function(*(value.m for value in values)))


PINT = {name: on_quantities(known) if callable(known) else quantity(known) for name, known in BARE.items()} | {
    "sum": lambda terms: sum(terms, quantity(0.0))
}


def terms_of(node):
    """The numbers of a sum as it is printed: `8 * 47 + 70`."""
    match node:
        case ast.BinOp(op=ast.Add()):
            return [*terms_of(node.left), *terms_of(node.right)]
        case ast.BinOp(op=ast.Mult(), left=ast.Constant(value=int(times))):
            return [*terms_of(node.right)] * times
    return [number_of(node)]


def number_of(node):
    return float(eval(compile(ast.Expression(node), "", "eval"), {"__builtins__": {}, **KNOWN}))  # noqa: S307


def operands_of(formula, filled):
    """What each name of a formula stands for in its filled line: both have the same shape."""
    match formula:
        case ast.Name(id=name) if name not in KNOWN:
            yield name, number_of(filled)
        case ast.Call(func=ast.Name(id="sum"), args=[ast.Name(id=name)]):
            yield name, tuple(terms_of(filled))
        case _:
            for one, other in zip(ast.iter_child_nodes(formula), ast.iter_child_nodes(filled), strict=True):
                yield from operands_of(one, other)


def lines_of(steps):
    """Assignments: each operand that no earlier line gives, then the formula."""
    known = {}
    for step in steps:
        if step.value is None:
            continue
        parts = (ast.parse(text, mode="eval").body for text in (step.formula, step.filled))
        for name, value in operands_of(*parts):
            if name not in known or not is_near(known[name], value):
                known[name] = value
                yield name, value
        known[step.name] = step.value
        yield step.name, step.formula


def is_near(one, other):
    """A printed operand is rounded; the value that an earlier line gave is not."""
    if isinstance(one, tuple) or isinstance(other, tuple):
        return one == other
    return math.isclose(one, other, rel_tol=1e-3, abs_tol=1e-4)


def function_of(steps, names, wrap):
    """A function without arguments that works the lines out; None where they have no arithmetic."""
    constants, body = {}, []
    for name, value in lines_of(steps):
        if isinstance(value, str):
            body.append(f"    {name} = {value}")
        else:
            constant = f"_{len(constants)}"
            constants[constant] = tuple(map(wrap, value)) if isinstance(value, tuple) else wrap(value)
            body.append(f"    {name} = {constant}")
    if not body:
        return None
    scope = {**names, **constants}
    exec("\n".join(["def bare():", *body, f"    return {body[-1].split()[0]}"]), scope)  # noqa: S102 - the core's own formulas
    return scope["bare"]


def bare_of(steps):
    """The lines in bare floats."""
    return function_of(steps, BARE, float)


def pint_of(steps):
    """The lines in pint quantities."""
    return function_of(steps, PINT, quantity)
