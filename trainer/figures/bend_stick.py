"""The straight tube of a bend's drawing: tape, numbered marks, hooks, what lies between the marks, and a learner's marks."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from trainer.calc.marks import End, Mark
from trainer.figures.axis import Axis
from trainer.figures.callout import Callout, callouts
from trainer.figures.dimension import Dimension, dimensions_below
from trainer.figures.svg import Drawing
from trainer.figures.tube import TAPE, hook_arrow, pencil_mark, straight_tube, tape
from trainer.figures.words import Words, length

__all__ = ["Span", "Stick", "draw_stick"]

_THICKNESS = 14.0
_HOOK_ROW = 17.0
#: Room that an arrow with its word takes.
_ARROW = 66.0
#: Marks nearer to each other than this have their flags beside them [units of the drawing].
_NEAR = 70.0
#: A learner's mark so near is kept clear of: its line would run through the words.
_CLOSE = 14.0


class Span(Struct, frozen=True):
    """A stretch of the tube with the sentence that is written on it; `name` as of a `Dimension`."""

    start: float
    end: float
    words: str = "length"
    name: str = "fig-dim"


class Stick(Struct, frozen=True):
    """
    What is seen on the straight tube.

    Args:
        marks: Full instructions, all measured from the measured end.
        spans: Dimensions between positions on it [in].
        known: Whether positions from the end are known; else neither tape nor positions are shown.
        yours: A learner's wrong marks [in].
    """

    marks: tuple[Mark, ...]
    spans: tuple[Span, ...] = ()
    known: bool = True
    yours: tuple[float, ...] = ()


def draw_stick(drawing: Drawing, axis: Axis, stick: Stick, words: Words) -> tuple[float, float]:
    """The straight tube round height 0; returns where that part begins and ends."""
    straight_tube(drawing, axis, 0, _THICKNESS)
    if stick.known:
        tape(drawing, axis, 0, [axis.x(mark.position) for mark in stick.marks])
    foot = _THICKNESS + 6
    for mark in stick.marks:
        pencil_mark(drawing, axis.x(mark.position), (-TAPE, foot), mark.position)
    for yours in stick.yours:
        pencil_mark(drawing, _on(axis, yours), (-TAPE, foot), yours, "fig-wrong")
    start = [Callout((axis.left, -TAPE), (words("measured-from"),), side="right")] if stick.known else []
    top = callouts(drawing, [*_flags(axis, stick, words), *start], -TAPE - 2, above=True)
    level = _hooks(drawing, axis, stick.marks, words)
    return top, dimensions_below(drawing, [_dimension(axis, span, words) for span in stick.spans], level)


def _on(axis: Axis, position: float) -> float:
    """Where a position lies, or the edge of the drawing when it lies beyond."""
    return min(max(axis.x(position), axis.left), axis.right)


def _flags(axis: Axis, stick: Stick, words: Words) -> list[Callout]:
    """The outermost marks first: theirs stand nearest, and the others find room above."""
    flags, middle = [], (axis.left + axis.right) / 2
    for mark in sorted(stick.marks, key=lambda mark: -abs(axis.x(mark.position) - middle)):
        lines = [words("bend-number", number=mark.order)]
        if stick.known:
            lines.append(words("length", length=length(mark.position)))
        flags.append(
            Callout((axis.x(mark.position), -TAPE), tuple(lines), "fig-mark", _aside(axis, mark.position, stick))
        )
    for yours in stick.yours:
        said = words("yours-at", length=length(yours)) if stick.known else words("yours")
        off = yours < 0 or yours > axis.last
        lines = [said, words("off-the-drawing")] if off else [said]
        flags.append(Callout((_on(axis, yours), -TAPE), tuple(lines), "fig-wrong"))
    return flags


def _aside(axis: Axis, position: float, stick: Stick) -> str:
    """On which side of its mark a flag stands: away from the nearest other mark, a learner's before all others."""
    others = [*stick.yours, *(mark.position for mark in stick.marks if mark.position != position)]
    near = [other for other in others if abs(other - position) * axis.scale < _NEAR]
    if not near:
        return "middle"
    nearest = min(near, key=lambda other: (other not in stick.yours, abs(other - position)))
    side = "left" if nearest > position else "right"
    close = nearest in stick.yours and abs(nearest - position) * axis.scale < _CLOSE
    return f"all-{side}" if close else side


def _hooks(drawing: Drawing, axis: Axis, marks: Sequence[Mark], words: Words) -> float:
    """The hook's arrow below each mark, in rows of their own where they lie near; returns where the rows end."""
    rows: list[float] = []
    for mark in sorted(marks, key=lambda mark: mark.position):
        x, way = axis.x(mark.position), 1.0 if mark.hook_toward == End.FAR else -1.0
        left, right = (x - _ARROW, x + 6) if way < 0 else (x - 6, x + _ARROW)
        row = next((index for index, taken in enumerate(rows) if left > taken), len(rows))
        rows[row : row + 1] = [right]
        hook_arrow(drawing, x, _THICKNESS + 14 + row * _HOOK_ROW, way, words("hook"))
    return _THICKNESS + 8 + len(rows) * _HOOK_ROW


def _dimension(axis: Axis, span: Span, words: Words) -> Dimension:
    """A span with its length; one that begins or ends off the drawing is drawn as far as its edge."""
    start, end = sorted((_on(axis, span.start), _on(axis, span.end)))
    said = words(span.words, length=length(abs(span.end - span.start)))
    return Dimension(start, max(end, start + 1), said, _THICKNESS + 6, span.name)
