"""The stub-up: the straight tube with its mark and the take-up, and beside the floor the stub that the bend gives."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from trainer.calc.shoes import DEFAULT_SHOES, Shoe
from trainer.calc.stub_up import StubUp
from trainer.figures.axis import Axis, axis_for
from trainer.figures.callout import Callout, callouts, label
from trainer.figures.dimension import Dimension, dimension_upright, dimensions_below
from trainer.figures.hatch import section
from trainer.figures.run import Bend, Run, pieces_between
from trainer.figures.svg import MARGIN, WIDTH, Drawing, polyline
from trainer.figures.tube import TAPE, broken_end, hook_arrow, pencil_mark, straight_tube, tape
from trainer.figures.words import Words, angle, length

__all__ = ["draw_stub_up"]

#: Where the stub stands on the drawing, and the tallest that it is drawn.
_STUB_X = 128.0
_TALLEST = 210.0
_GROUND = 7.0


class _Job(Struct, frozen=True):
    """The stub, its shoe, and a learner's wrong mark [in]."""

    height: float
    result: StubUp
    shoe: Shoe
    yours: float | None

    @property
    def marks(self) -> list[float]:
        """The right mark, and the wrong one where the stub that it gives can be drawn."""
        can_bend = self.yours is not None and 0 < self.yours < 1.6 * self.height
        return [self.result.mark, self.yours] if can_bend and self.yours is not None else [self.result.mark]

    def run(self, mark: float, floor: float, scale: float) -> Run:
        """The tube bent on a mark, from the stub's end down and away over the floor, whose centre line lies at `floor`."""
        bend = Bend(mark + self.shoe.mark_to_arc, self.shoe.radius, 90.0)
        last = bend.start + bend.length + max(6.0, (WIDTH - MARGIN - _STUB_X) / scale - self.shoe.radius)
        top = floor - (bend.start + self.shoe.radius) * scale
        return Run((_STUB_X, top), -90.0, pieces_between([bend], last), scale)


def draw_stub_up(
    inputs: Mapping[str, Any],
    result: StubUp,
    words: Words,
    *,
    wrong: Mapping[str, float],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    A stub-up: mark and take-up on the straight tube, and the bent tube on the floor.

    Args:
        inputs: Values of the calculation `stub_up`.
        result: Its result.
        words: Sentences.
        wrong: A learner's value by the output's name; drawn dashed.
        solved: Whether the mark is shown; else only what is to be bent.
        key: Tells apart equal figures on one page.
    """
    job = _Job(inputs["stub_height"], result, _shoe(inputs, result.take_up), wrong.get("mark"))
    drawing = Drawing()
    top, level = _straight(drawing, job, words) if solved else (0.0, 0.0)
    bottom = _bent(drawing, job, words, level + 12, solved=solved)
    about = {"height": length(job.height), "mark": length(result.mark), "take_up": length(result.take_up)}
    description = words("stub-up.about" if solved else "stub-up.asked", **about)
    return drawing.finish(top - 4, bottom + 6, words("stub-up.title"), description, key)


def _shoe(inputs: Mapping[str, Any], take_up: float) -> Shoe:
    """The shoe of the trade size with the take-up that was used; without a size the one whose own is nearest."""
    size = inputs.get("trade_size")
    nearest = min(DEFAULT_SHOES.values(), key=lambda shoe: abs(shoe.take_up - take_up))
    return replace(DEFAULT_SHOES[size] if size else nearest, take_up=take_up)


def _straight(drawing: Drawing, job: _Job, words: Words) -> tuple[float, float]:
    """The straight tube with tape, mark and dimensions; returns where that part begins and ends."""
    high = max(job.height, job.yours if len(job.marks) > 1 and job.yours else 0)
    axis = axis_for(0.0, 1.3 * high)
    thickness = max(7.0, job.shoe.outside_diameter * axis.scale)
    mark = axis.x(job.result.mark)
    straight_tube(drawing, axis, 0, thickness)
    tape(drawing, axis, 0, [mark])
    pencil_mark(drawing, mark, (-TAPE, thickness + 6), job.result.mark)
    hook_arrow(drawing, mark, thickness + 14, -1.0, words("hook"))
    flag = Callout((mark, -TAPE), (words("length", length=length(job.result.mark)),), "fig-mark", "right")
    items = [flag, *_your_mark(drawing, job, axis, words, thickness)]
    start = Callout((axis.left, -TAPE), (words("measured-from"),), side="right")
    top = callouts(drawing, [*items, start], -TAPE - 2, above=True)
    level = dimensions_below(drawing, _dimensions(job, axis, words, thickness), thickness + 20)
    reference = words(f"reference.{job.result.marks[0].reference}")
    return top, drawing.paragraph(level + 4, words("stub-up.how", reference=reference), "fig-text fig-note")


def _your_mark(drawing: Drawing, job: _Job, axis: Axis, words: Words, thickness: float) -> list[Callout]:
    """A learner's wrong mark, at the edge when it lies beyond the drawing."""
    if job.yours is None:
        return []
    x = min(max(axis.x(job.yours), axis.left), axis.right)
    pencil_mark(drawing, x, (-TAPE, thickness + 6), job.yours, "fig-wrong")
    lines = [words("yours-at", length=length(job.yours))]
    if not 0 <= job.yours <= axis.last:
        lines.append(words("off-the-drawing"))
    return [Callout((x, -TAPE), tuple(lines), "fig-wrong", "right" if job.yours > job.result.mark else "left")]


def _dimensions(job: _Job, axis: Axis, words: Words, thickness: float) -> list[Dimension]:
    """Take-up behind the mark, and the stub's height as the sum of both."""
    start, mark, end = axis.left, axis.x(job.result.mark), axis.x(job.height)
    return [
        Dimension(mark, end, words("take-up", length=length(job.result.take_up)), thickness + 6),
        Dimension(start, end, words("stub-height", length=length(job.height)), thickness),
    ]


def _bent(drawing: Drawing, job: _Job, words: Words, level: float, *, solved: bool) -> float:
    """The bent tube on the floor, below `level`; returns where the drawing ends."""
    marks = job.marks
    tallest = max([job.height, *(mark + job.result.take_up for mark in marks)])
    scale = min(_TALLEST / tallest, 14.0)
    thickness = max(7.0, job.shoe.outside_diameter * scale)
    # The height is measured to the back of the bend, which is drawn at the true diameter even where the tube is thicker.
    floor = level + tallest * scale - job.shoe.outside_diameter * scale / 2 + 6
    ground = floor + thickness / 2
    _floor(drawing, ground)
    run = job.run(job.result.mark, floor, scale)
    drawing.path(run.outline(thickness), "fig-tube")
    x, y = run.stations[-1].point
    broken_end(drawing, min(x, WIDTH - MARGIN), y - thickness / 2, y + thickness / 2)
    top = run.stations[0].point[1]
    height = words("length", length=length(job.height))
    drawing.line((_STUB_X - thickness / 2 - 2, top), (_STUB_X - 44, top), "fig-dim-thin")
    dimension_upright(drawing, _STUB_X - 38, (top, ground), height, side="left")
    _angle(drawing, run, words, thickness)
    if solved:
        station = run.at(job.result.mark)
        drawing.line(station.beside(-thickness / 2), station.beside(thickness / 2 + 4), "fig-mark")
        _upright_parts(drawing, job, words, (top, station.point[1], ground), thickness)
    for mark in marks[1:]:
        _your_stub(drawing, job.run(mark, floor, scale), top, words, thickness)
    return ground + _GROUND + 4


def _floor(drawing: Drawing, ground: float) -> None:
    """The floor on which the bent tube lies."""
    left, right = _STUB_X - 60, WIDTH - MARGIN
    section(
        drawing, [(left, ground), (right, ground), (right, ground + _GROUND), (left, ground + _GROUND)], "fig-ground"
    )


def _angle(drawing: Drawing, run: Run, words: Words, thickness: float) -> None:
    """The angle of the bend, inside it."""
    middle = run.at(run.pieces[0].length + run.pieces[1].length / 2)
    x, y = middle.beside(-thickness / 2 - 4)
    label(drawing, words("angle", angle=angle(90)), [((x + 6, y - 4), "start")])


def _upright_parts(
    drawing: Drawing, job: _Job, words: Words, heights: tuple[float, float, float], thickness: float
) -> None:
    """Mark and take-up along the stub: together they are its height."""
    top, mark, ground = heights
    x = _STUB_X + thickness / 2 + 16
    drawing.line((_STUB_X + thickness / 2 + 2, mark), (x + 5, mark), "fig-dim-thin")
    drawing.line((_STUB_X + thickness / 2 + 2, top), (x + 5, top), "fig-dim-thin")
    dimension_upright(drawing, x, (top, mark), words("length", length=length(job.result.mark)))
    dimension_upright(drawing, x + 64, (mark, ground), words("take-up", length=length(job.result.take_up)))
    drawing.line((x + 5, mark), (x + 69, mark), "fig-dim-thin")


def _your_stub(drawing: Drawing, yours: Run, top: float, words: Words, thickness: float) -> None:
    """Where a learner's mark would let the stub end: dashed above the right one, or a dashed line across it."""
    (x, y), half = yours.stations[0].point, thickness / 2
    if y < top:
        drawing.path(polyline([(x - half, top), (x - half, y), (x + half, y), (x + half, top)]), "fig-wrong")
    else:
        drawing.line((x - half - 8, y), (x + half + 8, y), "fig-wrong")
    spots = [((x + half + 10, y + 10), "start"), ((x - half - 10, y + 10), "end"), ((x, y - 5), "middle")]
    label(drawing, words("yours"), spots, "fig-text fig-wrong-text")
