"""Stretches of a run from box to box with their connectors and couplings, each drawn over the whole width."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from trainer.calc.length import write_length
from trainer.calc.material_list import MaterialList, couplings_of
from trainer.calc.runs import Legs
from trainer.figures.svg import MARGIN, WIDTH, Drawing
from trainer.figures.words import Words

__all__ = ["draw_joints"]

_BOX, _TUBE, _ROW = 20.0, 8.0, 50.0
_LEFT, _RIGHT = MARGIN + _BOX, WIDTH - MARGIN - _BOX
#: Rows that are drawn; what is repeated further is said only.
_MOST = 4


def draw_joints(
    inputs: Mapping[str, Any],
    result: MaterialList,
    words: Words,
    *,
    wrong: Mapping[str, Any],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    Each stretch with its joints.

    Args:
        inputs: Values of the calculation `material_list`.
        result: Its result.
        words: Sentences.
        wrong: A learner's count under "couplings" or "connectors"; said below.
        solved: Whether connectors and couplings are shown; else boxes and tube.
        key: Tells apart equal figures on one page.
    """
    drawing, run = Drawing(), inputs["run"]
    for row, legs in enumerate(run[:_MOST]):
        couplings = couplings_of(legs, **_given(inputs)) if solved else ()
        _stretch(drawing, row * _ROW, legs, couplings, solved=solved)
    level = min(len(run), _MOST) * _ROW - 18
    told: dict[str, object] = {"run": "; ".join(write_length(sum(legs.lengths), feet=True) for legs in run)}
    told |= {"connectors": result.connectors, "couplings": result.couplings}
    if solved:
        level = drawing.paragraph(level, words("joints.told", **told))
        for name in ("couplings", "connectors", "sticks"):
            if isinstance(wrong.get(name), int | float):
                said = words("yours-is", length=f"{wrong[name]:g}")
                level = drawing.paragraph(level, said, "fig-text fig-wrong-text")
    about = words("joints.about" if solved else "joints.asked", **told)
    return drawing.finish(-30, level + 4, words("joints.title"), about, key)


def _given(inputs: Mapping[str, Any]) -> dict[str, Any]:
    """What the places of couplings hang on, as far as it was given."""
    return {name: inputs[name] for name in ("shoe", "stock_length") if inputs.get(name) is not None}


def _stretch(drawing: Drawing, y: float, legs: Legs, couplings: Sequence[float], *, solved: bool) -> None:
    """One stretch round height `y`: boxes, tube, and its joints at their part of the length."""
    for x in (MARGIN, _RIGHT):
        drawing.rectangle((x, y - _BOX / 2), _BOX, _BOX, "fig-box")
    drawing.rectangle((_LEFT, y - _TUBE / 2), _RIGHT - _LEFT, _TUBE, "fig-tube")
    drawing.text((WIDTH / 2, y - 13), write_length(sum(legs.lengths), feet=True), anchor="middle")
    if solved:
        for x in (_LEFT, _RIGHT - 9):
            drawing.rectangle((x, y - 7), 9, 14, "fig-nut")
    for part in couplings:
        x = _LEFT + part * (_RIGHT - _LEFT)
        drawing.open_group("fig-at", position=part, kind="coupling")
        drawing.rectangle((x - 6, y - 7), 12, 14, "fig-nut")
        drawing.close_group()
