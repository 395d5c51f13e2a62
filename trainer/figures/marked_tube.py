"""The straight tube with its tape and all marks made on it, numbered in the order of bending, hooks pointing as they will."""

from __future__ import annotations

from collections.abc import Sequence

from trainer.calc.marks import End, Mark
from trainer.figures.axis import Axis, axis_for
from trainer.figures.callout import Callout, callouts
from trainer.figures.svg import Drawing
from trainer.figures.tube import TAPE, hook_arrow, pencil_mark, straight_tube, tape
from trainer.figures.words import Words, length

__all__ = ["draw_marked_tube"]

_THICKNESS = 16.0
#: Tube that is drawn before the first mark and behind the last one [in].
_BESIDE = 8.0
_HOOK_ROW = 17.0
#: Room that an arrow with its word takes.
_ARROW = 66.0
#: Of more marks only the outermost are named.
_MOST_NAMED = 6


def draw_marked_tube(marks: Sequence[Mark], words: Words, key: str = "") -> str:
    """
    The marks that go on the tube while it is straight.

    Args:
        marks: Full instructions; those that are not measured from the measured end are left out: they are made later.
        words: Sentences.
        key: Tells apart equal figures on one page.

    Returns:
        The figure, "" when no mark is measured from that end.
    """
    made = sorted((mark for mark in marks if mark.measured_from == End.MEASURED), key=lambda mark: mark.order)
    if not made:
        return ""
    drawing, positions = Drawing(), [mark.position for mark in made]
    axis = axis_for(max(0.0, min(positions) - _BESIDE), max(positions) + _BESIDE)
    straight_tube(drawing, axis, 0, _THICKNESS)
    tape(drawing, axis, 0, [axis.x(position) for position in positions])
    for mark in made:
        pencil_mark(drawing, axis.x(mark.position), (-TAPE, _THICKNESS + 6), mark.position)
    bottom = _hooks(drawing, axis, made, words)
    start = Callout((axis.left, -TAPE), (words("measured-from"),), side="right")
    top = callouts(drawing, [*_flags(axis, made, words), start], -TAPE - 2, above=True)
    listed = ", ".join(words("length", length=length(position)) for position in sorted(positions))
    return drawing.finish(top - 4, bottom + 6, words("marked.title"), words("marked.about", marks=listed), key)


def _flags(axis: Axis, marks: Sequence[Mark], words: Words) -> list[Callout]:
    """Number and position of each mark; where there are many, of the outermost two."""
    along = sorted(marks, key=lambda mark: mark.position)
    return [
        Callout(
            (axis.x(mark.position), -TAPE),
            (words("bend-number", number=mark.order), words("length", length=length(mark.position))),
            "fig-mark",
        )
        for mark in (along if len(along) <= _MOST_NAMED else (along[0], along[-1]))
    ]


def _hooks(drawing: Drawing, axis: Axis, marks: Sequence[Mark], words: Words) -> float:
    """The hook's arrow below each mark, side by side marks in rows of their own; returns where the rows end."""
    rows: list[float] = []
    for mark in sorted(marks, key=lambda mark: mark.position) if len(marks) <= _MOST_NAMED else ():
        x, way = axis.x(mark.position), 1.0 if mark.hook_toward == End.FAR else -1.0
        left, right = (x - _ARROW, x + 6) if way < 0 else (x - 6, x + _ARROW)
        row = next((index for index, taken in enumerate(rows) if left > taken), len(rows))
        rows[row : row + 1] = [right]
        hook_arrow(drawing, x, _THICKNESS + 14 + row * _HOOK_ROW, way, words("hook"))
    return _THICKNESS + 14 + len(rows) * _HOOK_ROW
