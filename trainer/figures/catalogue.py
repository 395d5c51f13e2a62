"""Every figure by name, drawn from typed or read inputs and the core's result."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from trainer.calc.catalogue import CATALOGUE
from trainer.figures.bend_total import draw_bend_total
from trainer.figures.cut_end import CUT_ENDS, draw_cut_end
from trainer.figures.cut_plan import draw_cut_plan
from trainer.figures.fitting import FITTINGS, draw_fitting
from trainer.figures.offset import draw_offset
from trainer.figures.straps import draw_straps
from trainer.figures.stub_up import draw_stub_up
from trainer.figures.words import Say, Words

__all__ = ["FIGURES", "Figure", "draw_figure", "figure_for"]


@dataclass(frozen=True, slots=True)
class Figure:
    """
    One figure.

    Args:
        calculation: Name of the calculation whose result it draws; "" for one that takes a word instead.
        draw: Draws it; arguments as `draw_figure` hands them on.
        takes: For a figure without calculation, the name of its input and what may stand there.
    """

    calculation: str
    draw: Callable[..., str]
    takes: tuple[str, tuple[str, ...]] = ("", ())


def _fitting(
    inputs: Mapping[str, Any], result: Any, words: Words, *, wrong: Mapping[str, Any], solved: bool, key: str
) -> str:
    """The fitting that is named, or the first that the core finds suitable; a learner's choice below it."""
    kind = inputs["fitting"] if result is None else result.suitable[0].fitting
    yours = str(next(iter(wrong.values()), "")) if solved else ""
    return draw_fitting(kind, words, yours="" if yours == kind else yours, key=key)


def _cut_end(
    inputs: Mapping[str, Any], _result: Any, words: Words, *, wrong: Mapping[str, Any], solved: bool, key: str
) -> str:
    """The end that is named; nothing about it is to be found or to be wrong."""
    del wrong, solved
    return draw_cut_end(inputs["state"], words, key)


#: The figures by name.
FIGURES: Mapping[str, Figure] = MappingProxyType(
    {
        "offset": Figure("offset", draw_offset),
        "stub_up": Figure("stub_up", draw_stub_up),
        "straps": Figure("strap_count", draw_straps),
        "cut_plan": Figure("cut_plan", draw_cut_plan),
        "bend_total": Figure("bend_total", draw_bend_total),
        "fitting": Figure("", _fitting, ("fitting", tuple(FITTINGS))),
        "fitting_choice": Figure("fitting_choice", _fitting),
        "cut_end": Figure("", _cut_end, ("state", tuple(CUT_ENDS))),
    }
)


def figure_for(calculation: str) -> str:
    """
    Name of the figure that draws a calculation's result, "" when none does.

    >>> figure_for("strap_count")
    'straps'
    """
    return next((name for name, figure in FIGURES.items() if calculation and figure.calculation == calculation), "")


def draw_figure(
    name: str,
    inputs: Mapping[str, object],
    result: object = None,
    *,
    say: Say,
    wrong: Mapping[str, float | str] | None = None,
    solved: bool = True,
    key: str = "",
) -> str:
    """
    One figure as an `<svg>` element; `trainer/web/static/css/figures.css` colours it.

    Args:
        name: A key of `FIGURES`.
        inputs: Inputs of its calculation, values or texts as typed; or the word that it takes.
        result: The calculation's result; worked out here when left out.
        say: Puts a message into words of the reader's language.
        wrong: A learner's wrong value by the name of the output; drawn dashed beside the right one.
        solved: Whether the answer may be seen; False draws only what is given. Such a drawing of a fitting shows
            the answer, so nothing is drawn.
        key: Tells apart equal figures on one page, whose ids would be equal otherwise.

    Returns:
        The element, "" where there is nothing to show.

    Raises:
        KeyError: When there is no such figure, or it lacks an input.
        InputError: When the calculation refuses an input.
    """
    figure = FIGURES[name]
    values: dict[str, object] = dict(inputs)
    if figure.calculation:
        calculation = CATALOGUE[figure.calculation]
        values = {given: calculation.input(given).value(value) for given, value in inputs.items() if value is not None}
        result = calculation.solve(values) if result is None else result
    if name == "fitting_choice" and (not solved or not getattr(result, "suitable", ())):
        return ""
    return figure.draw(values, result, Words(say), wrong=wrong or {}, solved=solved, key=key)
