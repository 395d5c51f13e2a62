"""Hatching of cut faces: slanted lines inside a polygon, as a section drawing shows cut material."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache

from trainer.figures.svg import Drawing, Point, polyline

__all__ = ["hatch", "section"]


def _crossings(points: Sequence[Point], level: float, slope: float) -> list[Point]:
    """Where the line y = slope * x + level crosses the polygon's edges, from left to right."""
    found = []
    for (x1, y1), (x2, y2) in zip(points, [*points[1:], points[0]], strict=True):
        above1, above2 = y1 - slope * x1 - level, y2 - slope * x2 - level
        if (above1 > 0) != (above2 > 0):
            part = above1 / (above1 - above2)
            found.append((x1 + part * (x2 - x1), y1 + part * (y2 - y1)))
    return sorted(found)


def hatch(points: Sequence[Point], spacing: float = 5.0, *, leftward: bool = False) -> str:
    """
    Path data of 45 degree lines inside a polygon; empty when it is too small for any.

    Args:
        points: Corners of the polygon.
        spacing: Distance between two lines.
        leftward: Lines that rise to the left, for the neighbouring part.
    """
    return _lines(tuple(points), spacing, 1.0 if leftward else -1.0)


@lru_cache(maxsize=1024)
def _lines(points: tuple[Point, ...], spacing: float, slope: float) -> str:
    """Cached, because the same fittings are cut open in the same places over and over."""
    levels = [y - slope * x for x, y in points]
    step = spacing * math.sqrt(2)
    lines = []
    for index in range(math.ceil(min(levels) / step), math.floor(max(levels) / step) + 1):
        ends = _crossings(points, index * step + 1e-6, slope)
        lines += [polyline(pair) for pair in zip(ends[::2], ends[1::2], strict=False)]
    return " ".join(lines)


def section(
    drawing: Drawing, points: Sequence[Point], name: str, spacing: float = 5.0, *, leftward: bool = False
) -> None:
    """A cut face: its outline of class `name`, and its hatching of class "fig-hatch"."""
    drawing.shape(points, name)
    lines = hatch(points, spacing, leftward=leftward)
    if lines:
        drawing.path(lines, "fig-hatch")
