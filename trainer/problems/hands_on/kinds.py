"""The kinds of hands-on checks, read from their files, each compiled once."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files

from msgspec import Struct

from trainer.calc.catalogue import CATALOGUE
from trainer.calc.cautions import AREAS, cautions_for
from trainer.calc.expression import Expression, compile_expression
from trainer.calc.message import Message
from trainer.calc.shoes import DEFAULT_SHOES
from trainer.problems.facts import fact
from trainer.problems.hands_on.shape import KindShape, MeasureShape, StepShape
from trainer.problems.held import Held
from trainer.problems.parameters import Parameter, parameter
from trainer.text.template import Template, compile_template

__all__ = ["KINDS", "CompiledMeasure", "Kind"]

_HERE = files(__package__)
#: Names that every kind knows of the shoe, where the size has one, besides its own.
OF_SHOE = ("outside_diameter", "take_up", "radius", "gain")
#: Numbers of the core's tables that every kind knows: how near a piece is held.
TOLERANCES = {
    "length_tolerance": "bends.tolerance.length",
    "angle_tolerance": "bends.tolerance.angle",
    "dog_leg_tolerance": "bends.tolerance.dog_leg",
    "cut_tolerance": "cutting.tolerance.length",
}


class CompiledMeasure(Struct, frozen=True):
    """A measured value with its formulas."""

    shape: MeasureShape
    value: Expression
    limit: Expression
    hint: Template


class Kind(Struct, frozen=True):
    """A kind of check; `shape` is its file, the rest compiled from it."""

    shape: KindShape
    parameters: tuple[Parameter, ...]
    keep: tuple[Expression, ...]
    facts: Mapping[str, float]
    between: Mapping[str, tuple[tuple[str, Expression], ...]]
    known: tuple[tuple[str, Expression], ...]
    measured: tuple[CompiledMeasure, ...]
    steps: tuple[tuple[StepShape, Template], ...]
    text: Template

    @property
    def id(self) -> str:
        """Its name in addresses and in records."""
        return self.shape.id

    @property
    def title(self) -> str:
        """What the trade calls the task."""
        return self.shape.title

    @property
    def cautions(self) -> tuple[Message, ...]:
        """Safety lines of its own work, each once; those that hold everywhere come with the page."""
        everywhere = cautions_for("")
        return tuple(one for area in self.shape.cautions for one in cautions_for(area) if one not in everywhere)

    @property
    def sizes(self) -> tuple[str, ...]:
        """Trade sizes in which it is set."""
        return tuple(self.shape.sizes)


def _names(shape: KindShape) -> tuple[str, ...]:
    """Names that formulas may use."""
    drawn = [name for given, entry in shape.draw.parameters.items() for name in parameter(given, entry).names]
    outputs = [f"{work.id}_{one.name}" for work in shape.work for one in CATALOGUE[work.calculation].outputs]
    between = [name for work in shape.work for name in work.known]
    return (*drawn, *shape.facts, *TOLERANCES, *OF_SHOE, *outputs, *between, *shape.known)


def _kind(shape: KindShape, shared: Mapping[str, StepShape]) -> Kind:
    names = _names(shape)
    missing = [path for path in shape.facts.values() if fact(path) is None]
    if missing or set(shape.sizes) - set(_SIZES):
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
def _shared() -> Mapping[str, StepShape]:
    return {row["id"]: StepShape(**row) for row in tomllib.loads(_SHARED)["steps"]}


def _made(id_: str) -> Mapping[str, Kind]:
    kind = _kind(KindShape(**tomllib.loads(_TEXTS[id_])), _shared())
    if kind.id != id_:
        raise ValueError(f"{id_}.toml: id = {kind.id!r}, and not the file's name")
    return {id_: kind}


def _order(id_: str) -> int:
    """The kinds as they are learned; one that is not listed comes last."""
    return _LEARNED.index(id_) if id_ in _LEARNED else len(_LEARNED)


_SIZES = (*DEFAULT_SHOES, "1-1/2", "2")
_LEARNED = (
    "cut-and-deburr",
    "connector-and-coupling",
    "strap-a-run",
    "stub-up",
    "back-to-back",
    "offset",
    "three-point-saddle",
    "four-bend-run",
    "wet-place-entry",
)

_SHARED = _HERE.joinpath("shared_steps.toml").read_text("utf-8")
_TEXTS = {
    file.name.removesuffix(".toml"): file.read_text("utf-8")
    for file in _HERE.joinpath("kinds").iterdir()
    if file.name.endswith(".toml")
}

#: Every kind by its id, which is the file's name, in the order in which they are learned; compiled when it is wanted.
KINDS: Mapping[str, Kind] = Held({id_: id_ for id_ in sorted(_TEXTS, key=lambda one: (_order(one), one))}, _made)
