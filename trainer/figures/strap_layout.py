"""Straps where they are, on a run with its boxes and bends, to scale along the run; what breaks the rule is marked."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise
from typing import Any

from msgspec import Struct

from trainer.calc.length import write_length
from trainer.calc.strap_check import StrapCheck, Violation
from trainer.figures.callout import Callout, callouts
from trainer.figures.dimension import Dimension, dimensions_below
from trainer.figures.svg import MARGIN, WIDTH, Drawing
from trainer.figures.words import Words

__all__ = ["draw_strap_layout"]

_BOX = 18.0
_LEFT = MARGIN + _BOX
_RIGHT = WIDTH - MARGIN - _BOX
_TUBE = 8.0
_DROP = 20.0
#: Lengths that differ by less are the same [in].
_SAME = 1e-6


class _Scale(Struct, frozen=True):
    """A run along the drawing [in]."""

    run: float

    def x(self, position: float) -> float:
        """Where a position along the run lies."""
        return _LEFT + position / self.run * (_RIGHT - _LEFT)


def draw_strap_layout(
    inputs: Mapping[str, Any],
    result: StrapCheck,
    words: Words,
    *,
    wrong: Mapping[str, float],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    A run with its straps, each with its distance from the start.

    Args:
        inputs: Values of the calculation `strap_check`.
        result: Its result.
        words: Sentences.
        wrong: Taken for the sake of the other figures; a layout has no mark of a learner's own.
        solved: Whether it is marked what breaks the rule; else only the run as it is.
        key: Tells apart equal figures on one page.
    """
    del wrong
    drawing, scale = Drawing(), _Scale(float(inputs["run_length"]))
    boxes = sorted({*(inputs.get("terminations") or ())} - {0.0, scale.run})
    _tube(drawing, scale, boxes, inputs)
    straps = sorted(inputs["straps"])
    for strap in straps:
        _strap(drawing, scale.x(strap), strap)
    flags = [Callout((scale.x(strap), -_TUBE / 2 - 2), (_feet(strap),)) for strap in straps]
    top = callouts(drawing, flags, -_DROP, above=True)
    level = dimensions_below(drawing, _dimensions(scale, boxes, straps, result, solved=solved), 18)
    if solved:
        level = _verdict(drawing, level, result, words)
    told = {
        "run": _feet(scale.run),
        "straps": ", ".join(map(_feet, straps)) or words("strap-layout.none"),
        "boxes": ", ".join(map(_feet, boxes)) or words("strap-layout.none"),
        "bends": ", ".join(f"{_feet(bend.start)}–{_feet(bend.end)}" for bend in inputs.get("bends") or ())
        or words("strap-layout.none"),
    }
    about = words("strap-layout.about", **told)
    return drawing.finish(min(top, drawing.highest) - 4, level + 6, words("strap-layout.title"), about, key)


def _tube(drawing: Drawing, scale: _Scale, boxes: list[float], inputs: Mapping[str, Any]) -> None:
    """Tube, bends as a wave drawn over it, boxes at both ends and between."""
    for x in (MARGIN, _RIGHT):
        drawing.rectangle((x, -_BOX / 2), _BOX, _BOX, "fig-box")
    drawing.rectangle((_LEFT, -_TUBE / 2), _RIGHT - _LEFT, _TUBE, "fig-tube")
    for bend in inputs.get("bends") or ():
        start, end = scale.x(bend.start), scale.x(bend.end)
        drawing.rectangle((start, -_TUBE / 2), max(end - start, 4), _TUBE, "fig-bent-part")
    for box in boxes:
        drawing.rectangle((scale.x(box) - _BOX / 2, -_BOX / 2), _BOX, _BOX, "fig-box")


def _strap(drawing: Drawing, x: float, position: float) -> None:
    """A strap over the tube, seen from the front: its saddle and its foot with the screw."""
    drawing.open_group("fig-at", position=position, kind="strap")
    drawing.rectangle((x - 3, -_TUBE / 2 - 2), 6, _TUBE + 4, "fig-strap")
    drawing.rectangle((x - 3, _TUBE / 2 + 2), 6, 9, "fig-strap")
    drawing.circle((x, _TUBE / 2 + 7), 1.3, "fig-thin")
    drawing.close_group()


def _dimensions(
    scale: _Scale, boxes: list[float], straps: list[float], result: StrapCheck, *, solved: bool
) -> list[Dimension]:
    """The run and its boxes; solved, every distance that is too long, and the widest gap that is not."""
    lines = [Dimension(scale.x(0), scale.x(end), _feet(end)) for end in (*boxes, scale.run)]
    if not solved:
        return lines
    faults = [fault for fault in result.violations if fault.limit]
    for fault in faults:
        length = _feet(fault.end - fault.start)
        lines.append(Dimension(scale.x(fault.start), scale.x(fault.end), length, name="fig-wrong"))
    for here, there in pairwise(straps):
        is_widest = abs(there - here - result.widest_gap) < _SAME and not any(here < box < there for box in boxes)
        if is_widest and not any(fault.kind == "apart" for fault in faults):
            lines.append(Dimension(scale.x(here), scale.x(there), _feet(there - here)))
            break
    return lines


def _verdict(drawing: Drawing, level: float, result: StrapCheck, words: Words) -> float:
    """What is wrong, line by line; or that nothing is."""
    if result.holds:
        return drawing.paragraph(level + 4, words.of_core("strap_check.holds"), "fig-text fig-note")
    level += 4
    for fault in result.violations:
        level = drawing.paragraph(level, _said(fault, words), "fig-text fig-wrong-text")
    return level


def _said(fault: Violation, words: Words) -> str:
    message = fault.message()
    return words.of_core(message.id, **message.params)


def _feet(inches: float) -> str:
    return write_length(inches, feet=True)
