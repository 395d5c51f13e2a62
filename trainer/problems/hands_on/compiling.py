"""The file of a kind of hands-on checks held against its shape, and compiled."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache

from trainer.calc.catalogue import CATALOGUE
from trainer.calc.cautions import AREAS
from trainer.calc.expression import Expression, compile_expression
from trainer.calc.shoes import DEFAULT_SHOES
from trainer.problems.facts import fact
from trainer.problems.hands_on.kind import CompiledMeasure, Kind
from trainer.problems.hands_on.shape import KindShape, StepShape
from trainer.problems.parameters import parameter
from trainer.text.template import compile_template

__all__ = ["kind_of"]

#: Names that every kind knows of the shoe, where the size has one, besides its own.
OF_SHOE = ("outside_diameter", "take_up", "radius", "gain")
#: Numbers of the core's tables that every kind knows: how near a piece is held.
TOLERANCES = {
    "length_tolerance": "bends.tolerance.length",
    "angle_tolerance": "bends.tolerance.angle",
    "dog_leg_tolerance": "bends.tolerance.dog_leg",
    "cut_tolerance": "cutting.tolerance.length",
}
SIZES = (*DEFAULT_SHOES, "1-1/2", "2")


def kind_of(text: str, shared: str) -> Kind:
    """
    A kind compiled.

    Args:
        text: Its file.
        shared: The file with the steps that kinds share.

    Raises:
        ValueError: When the file cannot be used.
    """
    return _kind(KindShape(**tomllib.loads(text)), _shared(shared))


def _names(shape: KindShape) -> tuple[str, ...]:
    """Names that formulas may use."""
    drawn = [name for given, entry in shape.draw.parameters.items() for name in parameter(given, entry).names]
    outputs = [f"{work.id}_{one.name}" for work in shape.work for one in CATALOGUE[work.calculation].outputs]
    between = [name for work in shape.work for name in work.known]
    return (*drawn, *shape.facts, *TOLERANCES, *OF_SHOE, *outputs, *between, *shape.known)


def _kind(shape: KindShape, shared: Mapping[str, StepShape]) -> Kind:
    names = _names(shape)
    missing = [path for path in shape.facts.values() if fact(path) is None]
    if missing or set(shape.sizes) - set(SIZES):
        raise ValueError(f"{shape.id}: no such fact or trade size: {missing or shape.sizes}")
    if not shape.cautions or set(shape.cautions) - set(AREAS):
        raise ValueError(f"{shape.id}: cautions of {shape.cautions}, not of one or more of {', '.join(AREAS)}")
    return Kind(
        shape,
        tuple(parameter(name, entry) for name, entry in shape.draw.parameters.items()),
        tuple(compile_expression(text, names) for text in shape.draw.keep),
        {name: fact(path) or 0.0 for name, path in {**TOLERANCES, **shape.facts}.items()},
        {work.id: _compiled(work.known, names) for work in shape.work},
        _compiled(shape.known, names),
        tuple(
            CompiledMeasure(
                one,
                compile_expression(one.value, names),
                compile_expression(one.limit, names),
                compile_template(one.hint),
            )
            for one in shape.measured
        ),
        tuple((one, compile_template(one.say)) for one in (*(shared[one] for one in shape.shared), *shape.steps)),
        compile_template(shape.text),
    )


def _compiled(formulas: Mapping[str, str], names: tuple[str, ...]) -> tuple[tuple[str, Expression], ...]:
    return tuple((name, compile_expression(text, names)) for name, text in formulas.items())


@cache
def _shared(text: str) -> Mapping[str, StepShape]:
    return {row["id"]: StepShape(**row) for row in tomllib.loads(text)["steps"]}
