"""A run with boxes in it, stretched out straight and to scale: each stretch with its length and its straps."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from msgspec import Struct

from trainer.calc.length import write_length
from trainer.calc.material_list import MaterialList, tube_of
from trainer.calc.message import Quantity
from trainer.calc.shoes import DEFAULT_SHOE
from trainer.calc.straps import strap_count
from trainer.figures.callout import Callout, callouts
from trainer.figures.dimension import Dimension, dimensions_below
from trainer.figures.svg import MARGIN, WIDTH, Drawing
from trainer.figures.words import Words

__all__ = ["draw_stretches"]

_BOX = 16.0
_TUBE = 7.0
#: Stretches in one row; a longer run goes on below.
_IN_A_ROW = 4
_ROW = 46.0
#: How far above the tube the numbers of straps begin.
_FLAGS = 18.0


class _Stretch(Struct, frozen=True):
    """A stretch of tube [in] and the places of its straps."""

    length: float
    straps: tuple[float, ...]


def draw_stretches(
    inputs: Mapping[str, Any],
    _result: MaterialList,
    words: Words,
    *,
    wrong: Mapping[str, float],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    The stretches of a run one behind the other, four to a row.

    Args:
        inputs: Values of the calculation `material_list`.
        words: Sentences.
        wrong: A learner's number under "straps"; it is written below.
        solved: Whether the straps are shown; else only the run.
        key: Tells apart equal figures on one page.
    """
    shoe = inputs.get("shoe") or DEFAULT_SHOE
    more = {name: inputs[name] for name in ("max_spacing", "max_from_end") if inputs.get(name) is not None}
    tubes = [tube_of(legs, shoe) for legs in inputs["run"]]
    run = [_Stretch(tube, strap_count(tube, **more).positions) for tube in tubes]
    drawing, level = Drawing(), -_ROW
    for start in range(0, len(run), _IN_A_ROW):
        row = run[start : start + _IN_A_ROW]
        level = _row(drawing, level + _above(row, words, solved=solved), row, words, solved=solved)
    if solved and "straps" in wrong:
        said = words("stretches.yours", straps=Quantity(round(wrong["straps"]), "straps"))
        level = drawing.paragraph(level + 4, said, "fig-text fig-wrong-text")
    told = {
        "count": len(run),
        "lengths": ", ".join(_feet(one.length) for one in run),
        "straps": ", ".join(f"{len(one.straps)}" for one in run),
    }
    about = words("stretches.about" if solved else "stretches.asked", **told)
    return drawing.finish(min(drawing.highest, -_BOX / 2) - 6, level + 6, words("stretches.title"), about, key)


def _scale(run: Sequence[_Stretch]) -> float:
    """Length on the drawing of an inch of a row's tube."""
    return (WIDTH - 2 * MARGIN - (len(run) + 1) * _BOX) / sum(one.length for one in run)


def _flags(run: Sequence[_Stretch], y: float, words: Words) -> list[Callout]:
    """The number of straps over each stretch of a row at height `y`."""
    flags, left, scale = [], MARGIN, _scale(run)
    for one in run:
        middle = left + _BOX + one.length * scale / 2
        said = words("stretches.straps", straps=Quantity(len(one.straps), "straps"))
        flags.append(Callout((middle, y - _TUBE / 2), (said,)))
        left += _BOX + one.length * scale
    return flags


def _above(run: Sequence[_Stretch], words: Words, *, solved: bool) -> float:
    """Room from the row before to this one: more where the numbers of straps stand in several rows."""
    top = callouts(Drawing(), _flags(run, 0.0, words), -_FLAGS, above=True) if solved else 0.0
    return max(_ROW, 4 - top)


def _row(drawing: Drawing, y: float, run: Sequence[_Stretch], words: Words, *, solved: bool) -> float:
    """Some stretches round height `y`, a box at each end of each; returns where the row ends."""
    scale = _scale(run)
    left, lines = MARGIN, []
    for one in run:
        drawing.rectangle((left, y - _BOX / 2), _BOX, _BOX, "fig-box")
        start, end = left + _BOX, left + _BOX + one.length * scale
        drawing.rectangle((start, y - _TUBE / 2), end - start, _TUBE, "fig-tube")
        lines.append(Dimension(start, end, _feet(one.length)))
        if solved:
            for strap in one.straps:
                _strap(drawing, start + strap * scale, y, strap)
        left = end
    drawing.rectangle((left, y - _BOX / 2), _BOX, _BOX, "fig-box")
    if solved:
        callouts(drawing, _flags(run, y, words), y - _FLAGS, above=True)
    return dimensions_below(drawing, lines, y + 18)


def _strap(drawing: Drawing, x: float, y: float, position: float) -> None:
    drawing.open_group("fig-at", position=position, kind="strap")
    drawing.rectangle((x - 2, y - _TUBE / 2 - 2), 4, _TUBE + 4, "fig-strap")
    drawing.rectangle((x - 2, y + _TUBE / 2 + 2), 4, 6, "fig-strap")
    drawing.close_group()


def _feet(inches: float) -> str:
    return write_length(inches, feet=True)
