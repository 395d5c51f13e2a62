"""A sheet from a kind, a trade size and a seed: as with problems, the seed gives the numbers and the core the rest."""

from __future__ import annotations

import random
import re
from collections.abc import Mapping, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any

from trainer.calc.catalogue import CATALOGUE
from trainer.calc.expression import Expression, ExpressionError
from trainer.calc.message import InputError
from trainer.calc.shoes import DEFAULT_SHOES, Shoe
from trainer.calc.step import write_number
from trainer.figures.catalogue import draw_figure
from trainer.problems.hands_on.kind import Kind
from trainer.problems.hands_on.sheet import MarkLine, Measure, Sheet, StepLine
from trainer.text.words import say

if TYPE_CHECKING:
    from trainer.problems.hands_on.shape import MarkShape, WorkShape

__all__ = ["HandsOnDrawError", "draw_sheet", "pictured"]

TRIES = 400
_BRACES = re.compile(r"{([a-z_]+)}")
#: Enough for any sixteenth of an inch: numbers are filled in bare, in the input's own unit.
_PLACES = 8
_BASES = ("handbook", "arc")
#: Two bases whose marks are nearer than a tape tells are one line [in].
_ONE_MARK = 1 / 32

Known = dict[str, Any]


class HandsOnDrawError(RuntimeError):
    """A kind finds no numbers in this size: an error of its file."""


def draw_sheet(kind: Kind, trade_size: str, seed: int, *, shoe: Shoe | None = None, bender: str = "") -> Sheet:
    """
    The sheet that a seed gives.

    Args:
        kind: The kind of check.
        trade_size: One of the kind's sizes.
        seed: From 0; the same one gives the same sheet again.
        shoe: The shop's own, measured shoe of this size; else a usual hand bender.
        bender: What the shop calls that shoe.

    Raises:
        ValueError: When the kind is not set in this size.
        HandsOnDrawError: When nothing fits in 400 tries.
    """
    if trade_size not in kind.sizes:
        raise ValueError(f"{kind.id} is set in {', '.join(kind.sizes)}, not in {trade_size}")
    chance, used = random.Random(seed), shoe or DEFAULT_SHOES.get(trade_size)
    for _ in range(TRIES):
        found = _attempt(kind, trade_size, used, chance)
        if found is not None:
            return _sheet(kind, trade_size, bender if shoe else "", *found)
    raise HandsOnDrawError(f"{kind.id} in {trade_size}: nothing fits")


def pictured(sheet: Sheet, *, language: str = "en", key: str = "") -> str:
    """The drawing that goes with the task, without the answers; "" where there is none."""
    if not sheet.figure:
        return ""
    return draw_figure(sheet.figure, sheet.figure_inputs, say=partial(say, language=language), solved=False, key=key)


def _attempt(
    kind: Kind, trade_size: str, shoe: Shoe | None, chance: random.Random
) -> tuple[Known, dict[str, dict[str, str | float]]] | None:
    """What is known and what each calculation was given; None where these numbers make no task."""
    known: Known = {**kind.facts, "size": trade_size}
    if shoe is not None:
        known |= {"shoe": str(shoe), "outside_diameter": shoe.outside_diameter}
        known |= {"take_up": shoe.take_up, "radius": shoe.radius, "gain": shoe.outside_gain}
    known |= {name: value for one in kind.parameters for name, value in one.draw(chance)}
    given: dict[str, dict[str, str | float]] = {}
    try:
        for work in kind.shape.work:
            given[work.id] = _inputs(work, known)
            known |= _outputs(work, given[work.id])
            _work_out(kind.between[work.id], known)
        _work_out(kind.known, known)
        fits = all(condition(_numbers(known)) for condition in kind.keep)
    except (InputError, ExpressionError):
        return None
    return (known, given) if fits else None


def _work_out(formulas: Sequence[tuple[str, Expression]], known: Known) -> None:
    for name, formula in formulas:
        known[name] = float(formula(_numbers(known)))


def _inputs(work: WorkShape, known: Known) -> dict[str, str | float]:
    return {name: _given(text, known) for name, text in work.inputs.items()}


def _given(text: str, known: Known) -> str | float:
    if text in known:
        value: str | float = known[text]
        return value
    return _BRACES.sub(lambda match: write_number(known[match[1]], _PLACES), text)


def _outputs(work: WorkShape, given: Mapping[str, str | float]) -> Known:
    """Outputs that are numbers, under the work's name; one that is missing here is not known."""
    calculation = CATALOGUE[work.calculation]
    results = calculation.results(calculation.solve(given))
    numbers = {name: value for name, (value, _) in results.items() if isinstance(value, int | float)}
    return {f"{work.id}_{name}": float(value) for name, value in numbers.items()}


def _numbers(known: Known) -> dict[str, float]:
    return {name: float(value) for name, value in known.items() if isinstance(value, int | float)}


def _sheet(
    kind: Kind, trade_size: str, bender: str, known: Known, given: Mapping[str, Mapping[str, str | float]]
) -> Sheet:
    numbers = _numbers(known)
    shape = kind.shape
    return Sheet(
        kind=kind.id,
        title=kind.title,
        trade_size=trade_size,
        bender=bender,
        text=kind.text.fill(known),
        pieces=tuple(numbers[name] for name in shape.pieces),
        figure=shape.figure or "",
        figure_inputs=dict(given[shape.figure_of]) if shape.figure_of else {},
        marks=tuple(_mark(one, numbers) for one in shape.marks),
        measured=tuple(
            Measure(
                one.shape.id,
                one.shape.label,
                one.hint.fill(known),
                one.shape.unit,
                one.shape.rule,
                float(one.value(numbers)),
                float(one.limit(numbers)),
            )
            for one in kind.measured
        ),
        steps=tuple(StepLine(one.id, said.fill(known), one.critical) for one, said in kind.steps),
        sources=tuple(shape.sources),
    )


def _mark(shape: MarkShape, numbers: Mapping[str, float]) -> MarkLine:
    """Every right place of a mark; bases that a tape cannot tell apart are one."""
    found: list[tuple[str, float]] = []
    for name in shape.values:
        if name in numbers and all(abs(numbers[name] - value) >= _ONE_MARK for _, value in found):
            found.append((_basis(name), numbers[name]))
    return MarkLine(shape.say, tuple(found) if len(found) > 1 else (("", found[0][1]),))


def _basis(name: str) -> str:
    return next((basis for basis in _BASES if name.endswith(f"_{basis}")), "sharp-corner")
