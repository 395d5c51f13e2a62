"""Fittings that turn, join two boxes or seal an entry, in section."""

from __future__ import annotations

from trainer.figures.fitting_parts import (
    BORE,
    BOX_WALL_LABEL,
    LOCKNUT_LABEL,
    THREAD,
    THROAT,
    WALL,
    Labels,
    Named,
    box_wall,
    locknut,
    seal,
    thread,
    tube,
)
from trainer.figures.section import Axle
from trainer.figures.svg import Point, polyline

__all__ = ["hub", "nipple_between_boxes", "offset_connector", "right_angle"]


def offset_connector(axle: Axle) -> Labels:
    """An offset connector, with a conductor drawn through its two turns."""
    upper = [(-2.0, 0.811), (-2.0, 0.9), (-1.1, 0.9), (-0.95, 0.87), (-0.4, 0.45), (-0.16, 0.45), (-0.16, 0.56)]
    upper += [(0, 0.56), (0, THREAD), (0.5, THREAD), (0.5, 0.36), (0.46, THROAT), (-0.32, THROAT), (-0.92, 0.765)]
    upper += [(-1.15, 0.765), (-1.15, 0.811)]
    lower = [(-2.0, 0.089), (-1.15, 0.089), (-1.15, 0.135), (-0.9, 0.135), (-0.3, -THROAT), (0.46, -THROAT)]
    lower += [(0.5, -0.36), (0.5, -THREAD), (0, -THREAD), (0, -0.56), (-0.16, -0.56), (-0.16, -0.45), (-0.36, -0.43)]
    lower += [(-0.93, 0), (-2, 0)]
    tube(axle.shifted(0.45), -2.3, -1.15)
    _conductor(axle, [(-2.3, 0.5), (-1.1, 0.5), (-0.42, 0.06), (0.7, 0.06)])
    for half in (upper, lower):
        axle.cut(half, "fig-part")
    box_wall(axle)
    locknut(axle)
    thread(axle, 0.0, 0.5)
    return Labels(
        above=(Named(-1.75, 0.78, "tube"), Named(-1.0, 0.83, "body"), BOX_WALL_LABEL),
        below=(Named(-1.8, 0.5, "conductor"), Named(-0.6, 0.18, "two-sharp-turns"), LOCKNUT_LABEL),
    )


def nipple_between_boxes(axle: Axle) -> Labels:
    """A short nipple through the knockouts of two boxes, with a collar between them and a locknut in each."""
    middle = axle.moved(-0.8)
    half = [(0.0, THROAT), (0.66, THROAT), (0.7, 0.34), (0.7, THREAD), (0.16, THREAD), (0.16, 0.58)]
    middle.bore(-0.7, 0.7, THROAT)
    middle.ring([*half, *[(-x, radius) for x, radius in reversed(half)]], "fig-part")
    for along, nut in ((0.16, 0.16 + WALL), (-0.16 - WALL, -0.29 - WALL)):
        box_wall(middle, along)
        locknut(middle, nut, leftward=along > 0)
    for start in (-0.7, 0.16):
        thread(middle, start, start + 0.54)
    middle.centre_line(-1.3, 1.3)
    return Labels(
        above=(
            Named(-1.0, 0.8, "first-box", "left"),
            Named(-0.6, 0.8, "second-box", "right"),
            Named(-0.8, 0.5, "collar"),
        ),
        below=(
            Named(-1.1, -0.5, "locknut", "left"),
            Named(-0.5, -0.5, "locknut", "right"),
            Named(-0.8, -0.36, "nipple"),
        ),
    )


def hub(axle: Axle) -> Labels:
    """A hub on a box in a wet place, with a connector screwed into it."""
    axle.bore(-1.5, 0.5, BORE)
    body = [(-0.95, THREAD), (-0.95, 0.56), (-0.12, 0.56), (-0.12, 0.72), (0, 0.72), (0, THREAD), (0.5, THREAD)]
    axle.ring([*body, (0.5, 0.36), (0.46, THROAT), (-0.25, THROAT), (-0.25, THREAD)], "fig-part")
    connector = [(-1.5, THROAT), (-1.5, 0.56), (-1.02, 0.56), (-1.02, THREAD), (-0.3, THREAD), (-0.3, THROAT)]
    axle.ring(connector, "fig-nut", leftward=True)
    box_wall(axle)
    locknut(axle)
    thread(axle, -1.02, -0.3)
    thread(axle, 0.0, 0.5)
    seal(axle, -0.045, 0.6, 0.045)
    axle.centre_line(-1.6, 0.72)
    return Labels(
        above=(BOX_WALL_LABEL, Named(-0.045, 0.6, "seal-at-box", "left"), Named(-0.7, 0.5, "hub", "left")),
        below=(Named(-1.3, -0.45, "connector-in-hub"), LOCKNUT_LABEL),
    )


def right_angle(axle: Axle) -> Labels:
    """A 90 degree connector with an opening at the corner, on a box below it."""
    elbow = axle.moved(-0.35)
    outer = [(-1.5, 0.361), (-1.5, 0.45), (-0.2, 0.45), (0.45, -0.2), (0.45, -0.76), (0.58, -0.76), (0.58, -0.9)]
    outer += [(THREAD, -0.9), (THREAD, -1.4), (0.36, -1.4), (THROAT, -1.36), (THROAT, -0.14), (-0.14, THROAT)]
    outer += [(-0.62, THROAT), (-0.62, 0.361)]
    inner = [(-1.5, -0.361), (-0.62, -0.361), (-0.62, -THROAT), (-THROAT, -THROAT), (-THROAT, -1.36), (-0.36, -1.4)]
    inner += [(-THREAD, -1.4), (-THREAD, -0.9), (-0.58, -0.9), (-0.58, -0.76), (-0.45, -0.76), (-0.45, -0.45)]
    inner += [(-1.5, -0.45)]
    tube(elbow, -1.9, -0.64)
    _conductor(elbow, [(-1.9, -0.1), (-0.3, -0.1), (-0.1, -0.28), (-0.1, -1.5)])
    for half in (outer, inner):
        elbow.cut(half, "fig-part")
    elbow.cut([(-0.2, 0.45), (0.45, -0.2), (0.5, -0.15), (-0.15, 0.5)], "fig-nut", leftward=True)
    for side in (1, -1):
        sheet = [(0.44, -0.9), (0.95, -0.9), (0.95, -0.9 - WALL), (0.44, -0.9 - WALL)]
        nut = [(THREAD, -0.97), (0.58, -0.97), (0.58, -1.06), (0.54, -1.1), (THREAD, -1.1)]
        elbow.cut([(side * x, off) for x, off in sheet], "fig-box", leftward=True)
        elbow.cut([(side * x, off) for x, off in nut], "fig-part", leftward=True)
    return Labels(
        above=(Named(-2.05, 0.33, "tube"), Named(-0.22, 0.17, "opening-with-cover"), Named(-1.3, 0.41, "body")),
        below=(
            Named(-1.2, -0.935, "box-wall", "left"),
            Named(-0.86, -1.03, "locknut", "left"),
            Named(-0.45, -1.3, "conductor", "right"),
        ),
        highest=0.62,
        lowest=1.52,
    )


def _conductor(axle: Axle, way: list[Point]) -> None:
    """A conductor along its way through a fitting."""
    axle.drawing.path(polyline([axle.at(*point) for point in way]), "fig-wire")
