"""The upper half of an offset's drawing: the straight tube with tape, marks, hook and spacing."""

from __future__ import annotations

from trainer.calc.marks import End
from trainer.figures.axis import Axis
from trainer.figures.callout import Callout, callouts
from trainer.figures.dimension import Dimension, dimensions_below
from trainer.figures.measure import text_width
from trainer.figures.offset_job import OffsetJob, OffsetSheet
from trainer.figures.tube import TAPE, hook_arrow, pencil_mark, straight_tube, tape
from trainer.figures.words import length

__all__ = ["draw_straight"]


def draw_straight(sheet: OffsetSheet) -> tuple[float, float]:
    """The straight tube with tape and marks round height 0; returns where that part begins and ends."""
    drawing, job, axis = sheet.drawing, sheet.job, sheet.axis
    marks = [axis.x(job.marks.far), axis.x(job.marks.near)]
    straight_tube(drawing, axis, 0, sheet.thickness)
    if job.distance is not None:
        tape(drawing, axis, 0, marks)
    bottom = sheet.thickness + 6
    for x, position in zip(marks, (job.marks.far, job.marks.near), strict=True):
        pencil_mark(drawing, x, (-TAPE, bottom), position)
    _hooks(sheet, marks, bottom + 8)
    top = callouts(drawing, [*_flags(sheet), *_your_flags(sheet), *_start(sheet)], -TAPE - 2, above=True)
    level = dimensions_below(drawing, _straight_dimensions(sheet), bottom + 14)
    return top, _instructions(sheet, level + 4)


def _hooks(sheet: OffsetSheet, marks: list[float], y: float) -> None:
    """The way in which the hook points at both marks; the word stands where it has room."""
    far, near = marks
    direction = 1.0 if sheet.job.hook == End.FAR else -1.0
    room = far - near > 34 + text_width(sheet.words("hook"))
    outer = far if direction > 0 else near
    for x in marks:
        hook_arrow(sheet.drawing, x, y, direction, sheet.words("hook") if room or x == outer else "")


def _start(sheet: OffsetSheet) -> list[Callout]:
    """The end at which the tape hooks on."""
    if sheet.job.distance is None:
        return []
    return [Callout((sheet.axis.left, -TAPE), (sheet.words("measured-from"),), side="right")]


def _flags(sheet: OffsetSheet) -> list[Callout]:
    """The names of both marks, with their positions where these are known."""
    job, words = sheet.job, sheet.words
    order = (1, 2) if job.hook == End.FAR else (2, 1)
    flags = []
    for number, position, side in zip(order, (job.marks.far, job.marks.near), ("right", "left"), strict=True):
        lines = [words("bend-number", number=number)]
        if job.distance is not None:
            lines.append(words("length", length=length(position)))
        flags.append(Callout((sheet.axis.x(position), -TAPE), tuple(lines), "fig-mark", side))
    return flags


def _your_flags(sheet: OffsetSheet) -> list[Callout]:
    """A learner's wrong marks on the straight tube, as far as they differ; at the edge when they lie beyond it."""
    job, axis = sheet.job, sheet.axis
    flags = []
    for right, yours in _pairs(job):
        x = _on(axis, yours)
        pencil_mark(sheet.drawing, x, (-TAPE, sheet.thickness + 6), yours, "fig-wrong")
        shown = job.distance is not None
        text = sheet.words("yours-at", length=length(yours)) if shown else sheet.words("yours")
        off = yours < 0 or yours > axis.last
        lines = (text, sheet.words("off-the-drawing")) if off else (text,)
        flags.append(Callout((x, -TAPE), lines, "fig-wrong", "left" if yours < right else "right"))
        if off:
            break
    return flags


def _pairs(job: OffsetJob) -> list[tuple[float, float]]:
    """Right and wrong position of each mark that is wrong [in]."""
    if job.yours is None:
        return []
    both = ((job.marks.far, job.yours.far), (job.marks.near, job.yours.near))
    return [(right, yours) for right, yours in both if right != yours]


def _straight_dimensions(sheet: OffsetSheet) -> list[Dimension]:
    """Spacing and shrink, and a learner's spacing."""
    job, axis, words = sheet.job, sheet.axis, sheet.words
    far, near, face = axis.x(job.marks.far), axis.x(job.marks.near), axis.x(job.obstacle)
    shown = [
        Dimension(near, far, words("length", length=length(job.result.spacing)), sheet.thickness + 6),
        Dimension(face, far, words("shrink", length=length(job.result.shrink)), sheet.thickness),
    ]
    yours = job.yours
    if job.answer is None or yours is None:
        return shown
    text = words("yours-is", length=length(job.answer[1]))
    if job.answer[0].startswith("spacing"):
        shown.append(Dimension(min(_on(axis, yours.near), far - 1), far, text, sheet.thickness + 6, "fig-wrong"))
    elif job.answer[0].startswith("shrink") and job.answer[1] > 0:
        shown.append(Dimension(face, max(_on(axis, yours.far), face + 1), text, sheet.thickness, "fig-wrong"))
    return shown


def _on(axis: Axis, position: float) -> float:
    """Where a position lies, or the edge of the drawing when it lies beyond."""
    return min(max(axis.x(position), axis.left), axis.right)


def _instructions(sheet: OffsetSheet, top: float) -> float:
    """Which reference goes on the marks, where the hook points, and the roll between the bends; returns the lower end."""
    marks = sheet.job.result.marks
    hook = sheet.words(f"hook-toward.{sheet.job.hook}")
    reference = sheet.words(f"reference.{marks[0].reference if marks else 'take-up-mark'}")
    how = sheet.words("offset.how", reference=reference, hook=hook)
    bottom = sheet.drawing.paragraph(top, how, "fig-text fig-note")
    if sheet.job.too_near:
        return sheet.drawing.paragraph(bottom, sheet.words("offset.too-near"), "fig-text fig-wrong-text")
    return bottom
