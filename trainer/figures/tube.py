"""A straight tube with a tape along it, pencil marks, and the way in which the bender's hook points."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from trainer.figures.axis import GAP, Axis
from trainer.figures.dimension import arrowhead
from trainer.figures.measure import Box, text_box
from trainer.figures.svg import Drawing, Point

__all__ = ["TAPE", "broken_end", "hook_arrow", "pencil_mark", "ribbon", "straight_tube", "tape", "tube_break"]

#: Height of the tape.
TAPE = 27.0
_DIVISIONS = (0.125, 0.25, 0.5, 1.0, 2.0, 6.0, 12.0, 24.0, 60.0, 120.0)
_NUMBERED = (1.0, 2.0, 3.0, 6.0, 12.0, 24.0, 60.0, 120.0, 240.0)


def straight_tube(drawing: Drawing, axis: Axis, top: float, thickness: float) -> None:
    """A straight tube from its measured end to the axis' last position, where it is broken off."""
    drawing.rectangle((axis.left, top), axis.right - axis.left, thickness, "fig-tube")
    if axis.is_broken:
        tube_break(drawing, axis.break_middle, top, top + thickness)
    broken_end(drawing, axis.right, top, top + thickness)


def tube_break(drawing: Drawing, x: float, top: float, bottom: float) -> None:
    """A gap with two slanted edges, where a stretch is left out."""
    half, slant = GAP / 2 - 3, 3.0
    up, down = top - 4, bottom + 4
    drawing.shape(
        [(x - half + slant, up), (x + half + slant, up), (x + half - slant, down), (x - half - slant, down)], "fig-gap"
    )
    for side in (-half, half):
        drawing.line((x + side + slant, up), (x + side - slant, down), "fig-break-line")


def broken_end(drawing: Drawing, x: float, top: float, bottom: float, *, leftward: bool = False) -> None:
    """A wavy edge, where the drawing of a tube stops but the tube goes on; to its right, or `leftward`."""
    middle, wave, beyond = (top + bottom) / 2, 4.0, -6.0 if leftward else 6.0
    drawing.path(
        f"M {x:.2f} {top - 1:.2f} Q {x + wave:.2f} {(top + middle) / 2:.2f} {x:.2f} {middle:.2f} "
        f"T {x:.2f} {bottom + 1:.2f} L {x + beyond:.2f} {bottom + 1:.2f} L {x + beyond:.2f} {top - 1:.2f} Z",
        "fig-gap",
    )
    drawing.path(
        f"M {x:.2f} {top - 1:.2f} Q {x + wave:.2f} {(top + middle) / 2:.2f} {x:.2f} {middle:.2f} "
        f"T {x:.2f} {bottom + 1:.2f}",
        "fig-break-line",
    )


def _visible(axis: Axis) -> Iterator[tuple[float, float]]:
    """The stretches that are drawn [in]."""
    if axis.is_broken:
        yield 0.0, axis.kept
    yield axis.resume, axis.last


def _positions(axis: Axis, step: float) -> Iterator[float]:
    """Multiples of `step` [in] that are drawn."""
    for start, end in _visible(axis):
        for index in range(math.ceil(start / step - 1e-9), math.floor(end / step + 1e-9) + 1):
            yield index * step


def _step(axis: Axis, steps: Sequence[float], room: float) -> float:
    """The smallest division that takes `room` on the drawing."""
    return next((step for step in steps if step * axis.scale >= room), steps[-1])


def tape(drawing: Drawing, axis: Axis, bottom: float, marks: Sequence[float]) -> None:
    """
    A tape whose divided edge lies at `bottom`, numbered in inches from the measured end.

    Args:
        drawing: Takes it.
        axis: The scale along the tube.
        bottom: Where its edge lies.
        marks: Where marks cross it, on the drawing; numbers make room for them.
    """
    top = bottom - TAPE
    drawing.rectangle((axis.left, top), axis.right - axis.left, TAPE, "fig-tape")
    numbered = _step(axis, _NUMBERED, 30.0)
    finest = _step(axis, _DIVISIONS, 4.0)
    for position in _positions(axis, finest):
        whole = abs(position - round(position)) < 1e-9
        tall = 11.0 if abs(position / numbered - round(position / numbered)) < 1e-9 else 8.0 if whole else 5.0
        drawing.line((axis.x(position), bottom - tall), (axis.x(position), bottom), "fig-tick")
    for position in _positions(axis, numbered):
        box = text_box(axis.x(position), top + 13, f"{position:g}", "middle")
        crossed = any(box.left - 2 < mark < box.right + 2 for mark in marks) or _at_break(axis, box)
        inside = box.left > axis.left and box.right < axis.right - 2
        if inside and not crossed and drawing.is_free(box):
            drawing.text((axis.x(position), top + 13), f"{position:g}", "fig-text fig-tape-text", "middle")
    if axis.is_broken:
        tube_break(drawing, axis.break_middle, top, bottom)
    broken_end(drawing, axis.right, top, bottom)


def _at_break(axis: Axis, box: Box) -> bool:
    """Whether a text would stand in the break."""
    half = GAP / 2 + 2
    return axis.is_broken and box.left < axis.break_middle + half and box.right > axis.break_middle - half


def pencil_mark(drawing: Drawing, x: float, span: tuple[float, float], position: float, name: str = "fig-mark") -> None:
    """A pencil line across the tube and the tape; `position` [in] is noted on it."""
    drawing.open_group("fig-at", position=position, kind="yours" if name == "fig-wrong" else "mark")
    drawing.line((x, span[0]), (x, span[1]), name)
    drawing.close_group()


def hook_arrow(drawing: Drawing, x: float, y: float, direction: float, words: str) -> None:
    """From a mark, an arrow the way in which the hook points (1 right, -1 left), and the word for it where it has room."""
    tip = x + direction * 24
    drawing.line((x, y), (tip - direction * 6, y), "fig-mark")
    arrowhead(drawing, (tip, y), (direction, 0), "fig-mark")
    ahead = ((tip + direction * 4, y + 4.5), "start" if direction > 0 else "end")
    behind = ((x - direction * 5, y + 4.5), "end" if direction > 0 else "start")
    for at, anchor in (ahead, behind):
        if words and drawing.is_free(text_box(*at, words, anchor, "fig-mark-text")):
            drawing.text(at, words, "fig-text fig-mark-text", anchor)
            return


def ribbon(line: Sequence[Point], half: float) -> list[Point]:
    """The outline of a tube whose centre line runs through these points."""
    beside: list[Point] = []
    for index in range(len(line)):
        (x0, y0), (x1, y1) = line[max(index - 1, 0)], line[min(index + 1, len(line) - 1)]
        long = math.hypot(x1 - x0, y1 - y0) or 1.0
        beside.append((-(y1 - y0) / long * half, (x1 - x0) / long * half))
    there = [(x + dx, y + dy) for (x, y), (dx, dy) in zip(line, beside, strict=True)]
    back = [(x - dx, y - dy) for (x, y), (dx, dy) in zip(line, beside, strict=True)]
    return [*there, *reversed(back)]
