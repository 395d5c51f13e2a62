"""The lower half of an offset's drawing: the bent tube in elevation, over its obstacle."""

from __future__ import annotations

from trainer.figures.callout import Callout, callouts, label
from trainer.figures.dimension import Dimension, dimension_upright, dimensions_below
from trainer.figures.hatch import section
from trainer.figures.measure import text_width
from trainer.figures.offset_job import Marks, OffsetSheet
from trainer.figures.run import Run
from trainer.figures.svg import MARGIN, WIDTH
from trainer.figures.tube import broken_end, tube_break
from trainer.figures.words import angle, length

__all__ = ["draw_bent"]

#: Room above the bent tube for the names of the bends.
_LABELS = 30.0
_GROUND = 7.0


def draw_bent(sheet: OffsetSheet, level: float, *, solved: bool) -> float:
    """
    The bent tube below `level`, and a learner's tube dashed where it can be bent at all.

    Returns:
        Where the drawing ends.
    """
    job, axis = sheet.job, sheet.axis
    bent = [job.marks]
    if job.yours is not None and job.can_bend(job.yours, axis):
        bent.append(job.yours)
    rise = max(-_run(sheet, marks, 0.0).stations[-1].point[1] for marks in bent)
    centre = level + _LABELS + rise + sheet.thickness
    run = _run(sheet, job.marks, centre)
    ground = centre + sheet.thickness / 2
    upright = _depth_line(sheet, run, ground)
    _obstacle(sheet, ground, upright)
    _tube(sheet, run, centre)
    if solved:
        _pencil_marks(sheet, run)
    _angles(sheet, run)
    for marks in bent[1:]:
        _your_tube(sheet, _run(sheet, marks, centre), run)
    return _below(sheet, ground)


def _run(sheet: OffsetSheet, marks: Marks, centre: float) -> Run:
    """The part of the tube that is bent, its lower leg at height `centre`."""
    return Run((sheet.axis.x(sheet.axis.resume), centre), 0, sheet.job.pieces(marks, sheet.axis), sheet.axis.scale)


def _tube(sheet: OffsetSheet, run: Run, centre: float) -> None:
    """The bent tube with its measured end, and where the pencil marks have gone."""
    drawing, axis, half = sheet.drawing, sheet.axis, sheet.thickness / 2
    drawing.path(run.outline(sheet.thickness), "fig-tube")
    if axis.is_broken:
        width = axis.x(axis.resume) - axis.left
        drawing.rectangle((axis.left, centre - half), width, 2 * half, "fig-tube")
        tube_break(drawing, axis.break_middle, centre - half, centre + half)
    end_x, end_y = run.stations[-1].point
    broken_end(drawing, end_x, end_y - half, end_y + half)


def _pencil_marks(sheet: OffsetSheet, run: Run) -> None:
    """Where the pencil marks have gone: they do not sit in the middle of the bends."""
    job, half = sheet.job, sheet.thickness / 2
    for position in (job.marks.near, job.marks.far):
        station = run.at(position - sheet.axis.resume)
        sheet.drawing.line(station.beside(-half - 3), station.beside(half), "fig-mark")


def _your_tube(sheet: OffsetSheet, run: Run, right: Run) -> None:
    """The tube that a learner's marks would give, dashed, with its word beside the slope."""
    half = sheet.thickness / 2
    for side in (-half, half):
        sheet.drawing.path(run.edge(side), "fig-wrong")
    middle = _middle_of_slope(run)
    (x, y), (end_x, end_y) = run.at(middle).point, run.stations[-1].point
    is_above = y < right.at(middle).point[1]
    beside = ((x - half - 6, y - half - 4), "end") if is_above else ((x + half + 6, y + half + 12), "start")
    # Along the upper leg, where an angle or the depth may stand already: first beyond the obstacle, then further out.
    along = [end_x - back for back in (50, 90, 20, 130, 0)]
    over = [((there, end_y - half - 5), "end") for there in along]
    under = [((there, end_y + half + 15), "end") for there in along]
    further = [*over, *under] if is_above else [*under, *over]
    label(sheet.drawing, sheet.words("yours"), [beside, *further], "fig-text fig-wrong-text")


def _middle_of_slope(run: Run) -> float:
    """From the start of the walk to the middle of the slope [in]."""
    return run.pieces[0].length + run.pieces[1].length + run.pieces[2].length / 2


def _depth_line(sheet: OffsetSheet, run: Run, ground: float) -> float:
    """The wanted rise, from bottom of tube to bottom of tube, near the far end; returns where it stands."""
    words = sheet.words("length", length=length(sheet.job.depth))
    x, y = run.stations[-1].point
    upright = min(x - 10, WIDTH - MARGIN - text_width(words) - 6)
    dimension_upright(sheet.drawing, upright, (y + sheet.thickness / 2, ground), words)
    return upright


def _obstacle(sheet: OffsetSheet, ground: float, limit: float) -> None:
    """The surface that the tube lies on, and the obstacle, as high as the rise."""
    drawing, axis = sheet.drawing, sheet.axis
    left, right = axis.left, WIDTH - MARGIN
    section(
        drawing, [(left, ground), (right, ground), (right, ground + _GROUND), (left, ground + _GROUND)], "fig-ground"
    )
    if axis.is_broken:
        tube_break(drawing, axis.break_middle, ground, ground + _GROUND)
    face = axis.x(sheet.job.obstacle)
    top = ground - sheet.job.depth * axis.scale
    back = max(face + 6, limit - 14)
    section(drawing, [(face, ground), (face, top), (back, top), (back, ground)], "fig-obstacle", 8, leftward=True)


def _angles(sheet: OffsetSheet, run: Run) -> None:
    """The angle of both bends, above the tube; once where they lie so near each other that it would stand on itself."""
    words = sheet.words("angle", angle=angle(sheet.job.angle))
    reached = 0.0
    sides = iter(("left", "right"))
    last = -WIDTH
    for piece in run.pieces:
        if piece.turn:
            x, y = run.at(reached + piece.length / 2).beside(-sheet.thickness / 2)
            if x - last > 2 * text_width(words):
                callouts(sheet.drawing, [Callout((x, y), (words,), side=next(sides))], y - 12, above=True)
            last = x
        reached += piece.length


def _below(sheet: OffsetSheet, ground: float) -> float:
    """The distance from the measured end to the obstacle."""
    if sheet.job.distance is None:
        return ground + _GROUND + 5
    words = sheet.words("length", length=length(sheet.job.distance))
    line = Dimension(sheet.axis.left, sheet.axis.x(sheet.job.distance), words)
    return dimensions_below(sheet.drawing, [line], ground + _GROUND)
