"""A tube on a wall beside the box that it goes into, seen from above, to scale; and the step between the two."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from msgspec import Struct

from trainer.calc.knockout_step import KnockoutStep
from trainer.calc.raceways import raceway_of
from trainer.figures.dimension import dimension_upright
from trainer.figures.svg import MARGIN, WIDTH, Drawing
from trainer.figures.words import Words, length

__all__ = ["draw_knockout_step"]

#: The tallest that is drawn, and units an inch at the most.
_HIGH, _MOST_SCALE = 130.0, 60.0
_TUBE_END, _BOX = 150.0, (262.0, 330.0)
_WALL = 12.0


class _View(Struct, frozen=True):
    """Heights off the wall on the drawing; the wall's face lies at 0."""

    drawing: Drawing
    scale: float

    def y(self, inches: float) -> float:
        return -inches * self.scale


def draw_knockout_step(
    inputs: Mapping[str, Any],
    result: KnockoutStep,
    words: Words,
    *,
    wrong: Mapping[str, Any],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    Tube, box and wall.

    Args:
        inputs: Values of the calculation `knockout_step`.
        result: Its result.
        words: Sentences.
        wrong: A learner's length under "step" or "spacer_needed"; said below.
        solved: Whether the step is shown; else what is given.
        key: Tells apart equal figures on one page.
    """
    outside = raceway_of("emt", inputs["trade_size"]).outside_diameter
    spacer, box_spacer = (float(inputs.get(name) or 0) for name in ("tube_spacer", "box_spacer"))
    top = max(spacer + outside, result.knockout_centre + max(0.6, outside * 0.62))
    view = _View(Drawing(), min(_MOST_SCALE, _HIGH / top))
    _wall_and_box(view, result, box_spacer, top)
    _tube(view, spacer, outside, result)
    _given(view, result, box_spacer, top, words)
    if solved and result.step > 1e-6:
        low, high = sorted((result.tube_centre, result.knockout_centre))
        said = words("length", length=length(result.step))
        dimension_upright(view.drawing, 226, (view.y(high), view.y(low)), said, side="left")
    level = _told(view.drawing, result, wrong if solved else {}, words, solved=solved)
    params = {
        "size": inputs["trade_size"],
        "knockout": length(inputs["knockout"]),
        "spacer": length(spacer),
        "box_spacer": length(box_spacer),
        "step": length(result.step),
    }
    about = words("knockout-step.about" if solved else "knockout-step.asked", **params)
    return view.drawing.finish(view.y(top) - 22, level + 4, words("knockout-step.title"), about, key)


def _wall_and_box(view: _View, result: KnockoutStep, box_spacer: float, top: float) -> None:
    drawing = view.drawing
    drawing.rectangle((MARGIN, 0), WIDTH - 2 * MARGIN, _WALL, "fig-obstacle")
    left, right = _BOX
    if box_spacer:
        for x in (left + 8, right - 22):
            drawing.rectangle((x, view.y(box_spacer)), 14, box_spacer * view.scale, "fig-strap")
    drawing.rectangle((left, view.y(top)), right - left, (top - box_spacer) * view.scale, "fig-box")
    drawing.line((left - 44, view.y(result.knockout_centre)), (right, view.y(result.knockout_centre)), "fig-axis")


def _tube(view: _View, spacer: float, outside: float, result: KnockoutStep) -> None:
    """The tube as it lies, broken off at the left, and what holds it off the wall."""
    drawing = view.drawing
    if spacer:
        drawing.rectangle((100, view.y(spacer)), 18, spacer * view.scale, "fig-strap")
    drawing.rectangle((MARGIN, view.y(spacer + outside)), _TUBE_END - MARGIN, outside * view.scale, "fig-tube")
    drawing.line((MARGIN, view.y(result.tube_centre)), (_TUBE_END + 90, view.y(result.tube_centre)), "fig-axis")


def _given(view: _View, result: KnockoutStep, box_spacer: float, top: float, words: Words) -> None:
    """What was measured: back of the box to the knockout; and the names of the parts."""
    drawing = view.drawing
    knockout = result.knockout_centre - box_spacer
    span = (view.y(result.knockout_centre), view.y(box_spacer))
    dimension_upright(drawing, 300, span, words("length", length=length(knockout)), side="left")
    drawing.text((MARGIN + 2, view.y(result.tube_centre) + 4), words("knockout-step.tube"))
    drawing.text((_BOX[1], view.y(top) - 8), words("knockout-step.box"), anchor="end")


def _told(drawing: Drawing, result: KnockoutStep, wrong: Mapping[str, Any], words: Words, *, solved: bool) -> float:
    level = _WALL + 6
    if solved:
        said = "knockout-step.straight-in" if result.spacer_needed is not None else "knockout-step.box-out"
        level = drawing.paragraph(level, words(said, spacer=length(result.spacer_needed or 0.0)))
    for name in ("step", "spacer_needed"):
        if isinstance(wrong.get(name), int | float):
            said = words("yours-is", length=length(float(wrong[name])))
            level = drawing.paragraph(level, said, "fig-text fig-wrong-text")
    return level
