"""A kick behind a 90: the leg with its kick, seen along the stub, which points at the one who looks."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from trainer.calc.kick import Kick
from trainer.calc.layout_compare import NINETY
from trainer.calc.layout_measure import corner
from trainer.calc.layout_space import Vector
from trainer.calc.layout_tube import Centreline
from trainer.calc.shoes import DEFAULT_SHOE, Shoe
from trainer.figures.bend_elevation import bent_tube, fitted, foot, stations
from trainer.figures.callout import Callout, callouts
from trainer.figures.dimension import dimension_upright
from trainer.figures.measure import text_width
from trainer.figures.svg import MARGIN, WIDTH, Drawing, Point
from trainer.figures.tube import broken_end, ribbon
from trainer.figures.words import Words, angle, length

__all__ = ["draw_kick_behind_ninety"]

_TALLEST = 120.0
_RUN = 14.0
_LABELS = 60.0
_THINNEST = 5.0


def draw_kick_behind_ninety(
    inputs: Mapping[str, Any],
    result: Kick,
    words: Words,
    *,
    wrong: Mapping[str, float],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    The leg behind a 90 with its kick; nothing where its arcs leave no room.

    Args:
        inputs: Values of the calculation `kick`.
        result: Its result.
        words: Sentences.
        wrong: A learner's length to the corner; it is written below.
        solved: Whether the length from the back of the 90 to the corner is shown.
        key: Tells apart equal figures on one page.
    """
    shoe = inputs.get("shoe") or DEFAULT_SHOE
    stick = NINETY.position + result.mark_arc + 2 * shoe.take_up + _RUN
    tube = bent_tube((NINETY, *result.marks_arc), shoe, stick)
    if tube is None or len(tube.bends) < 2:
        return ""
    drawing = Drawing()
    said = words("length", length=length(inputs["rise"]))
    level = _leg(drawing, tube, shoe, said, _notes(result, words, solved=solved))
    for name, value in wrong.items():
        if solved and name.startswith(("corner", "travel")):
            yours = words("kick-behind-ninety.yours", length=length(value))
            level = drawing.paragraph(level + 4, yours, "fig-text fig-wrong-text")
    level = drawing.paragraph(level + 4, words("kick-behind-ninety.how"), "fig-text fig-note")
    told = {"rise": length(inputs["rise"]), "angle": angle(round(result.angle, 1)), "corner": length(result.corner)}
    about = words("kick-behind-ninety.about" if solved else "kick-behind-ninety.asked", **told)
    return drawing.finish(drawing.highest - 6, level + 6, words("kick-behind-ninety.title"), about, key)


def _notes(result: Kick, words: Words, *, solved: bool) -> tuple[str, str]:
    """What stands at the corner of the kick, and on the leg between."""
    told = words("kick-behind-ninety.corner", length=length(result.corner)) if solved else ""
    return words("angle", angle=angle(round(result.angle, 1))), told


def _leg(drawing: Drawing, tube: Centreline, shoe: Shoe, rise: str, notes: tuple[str, str]) -> float:
    """The leg from the stub to the run; returns the lower end."""
    run, middle = tube.legs[-1], corner(tube, 0)
    up = (middle - run.start).across(run.along).unit
    base = run.start.dot(up)

    def flat(point: Vector) -> Point:
        return point.dot(run.along), point.dot(up) - base

    line = [flat(middle), *(flat(tube.at(at)) for at in stations(tube) if at >= tube.legs[1].station)]
    axis = fitted(line, _TALLEST, text_width(rise) + 22)
    half = max(shoe.outside_diameter * axis.scale, _THINNEST) / 2
    ground = _LABELS + half + line[0][1] * axis.scale

    def at(point: Point) -> Point:
        return axis.x(point[0]), ground - point[1] * axis.scale

    drawn = [at(point) for point in line]
    stub = drawn[0]
    drawing.line((stub[0] - 30, ground), (WIDTH - MARGIN, ground), "fig-axis")
    drawing.shape(ribbon(drawn, half), "fig-tube")
    broken_end(drawing, min(drawn[-1][0], WIDTH - 8), ground - half, ground + half)
    drawing.circle(stub, half * 1.15, "fig-tube")
    drawing.circle(stub, half * 0.85, "fig-bore")
    drawing.line((stub[0] - half - 14, stub[1]), stub, "fig-dim-thin")
    dimension_upright(drawing, stub[0] - half - 10, (stub[1], ground), rise, side="left")
    kicked = at(flat(corner(tube, 1)))
    labels = [Callout(kicked, (notes[0],), "fig-mark", dot=True)]
    if notes[1]:
        labels.append(Callout(((stub[0] + kicked[0]) / 2, (stub[1] + kicked[1]) / 2), (notes[1],), dot=True))
    callouts(drawing, labels, _LABELS - half - 14, above=True)
    return max(ground + half, foot(stub[1], ground), drawing.lowest)
