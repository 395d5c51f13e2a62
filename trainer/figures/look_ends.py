"""Cut ends of a tube in section, large: what the tool left at the edge. The wall is drawn thicker than it is."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from trainer.figures.hatch import section
from trainer.figures.svg import Drawing, Point, polyline

__all__ = ["ENDS", "threads"]

#: Where the end stands and where the tube is broken off, from the middle of the cell; outer radius and wall.
_END, _BACK, _R, _T = 26.0, -66.0, 32.0, 8.0
_SIDES = (-1, 1)

Cell = Callable[[Drawing, Point], None]


def _wall(drawing: Drawing, middle: Point, side: int, *, inside: float = 0.0, outside: float = 0.0) -> None:
    """One wall, above for -1 and below for 1, with its edges taken off by so much."""
    x, y = middle
    corners = [(_BACK, _R), (_END - outside, _R), (_END, _R - outside), (_END, _R - _T + inside), (_END - inside, _R - _T), (_BACK, _R - _T)]  # fmt: skip
    section(drawing, [(x + along, y + side * off) for along, off in corners], "fig-tube", 5.0, leftward=side > 0)


def _tube(drawing: Drawing, middle: Point, *, inside: float = 0.0, outside: float = 0.0) -> None:
    """Both walls and the far side of the bore."""
    x, y = middle
    drawing.rectangle((x + _BACK, y - _R + _T), _END - _BACK, 2 * (_R - _T), "fig-bore")
    for side in _SIDES:
        _wall(drawing, middle, side, inside=inside, outside=outside)
    drawing.line((x + _BACK - 4, y), (x + _END + 12, y), "fig-axis")


def _part(drawing: Drawing, middle: Point, side: int, points: list[Point], name: str = "fig-seal") -> None:
    """A shape at the end: (along from the end, inward from the bore's surface)."""
    x, y = middle
    drawing.shape([(x + _END + along, y + side * (_R - _T - inward)) for along, inward in points], name)


def _ridge(drawing: Drawing, middle: Point, side: int) -> None:
    _part(drawing, middle, side, [(-14, 0), (-5, 4), (0, 11), (1, 0)])


def _inner_burrs(drawing: Drawing, middle: Point) -> None:
    for side in _SIDES:
        _part(drawing, middle, side, [(-4, 0), (-2, 5), (0, 2), (3, 8), (4, 2), (7, 4), (1, -3)])


def _outer_burrs(drawing: Drawing, middle: Point) -> None:
    for side in _SIDES:
        _part(drawing, middle, side, [(-3, -_T), (-1, -_T - 5), (2, -_T - 2), (6, -_T - 6), (5, -_T + 1), (0, -_T + 3)])


def threads(drawing: Drawing, start: Point, count: int, height: float, pitch: float = 5.0) -> None:
    """A row of thread crests from `start` rightward, `height` high, upward where it is above 0."""
    x, y = start
    points = [(x + step * pitch / 2, y - (height if step % 2 else 0.0)) for step in range(2 * count + 1)]
    drawing.path(polyline(points), "fig-limit")


def _wheel_reamed(drawing: Drawing, middle: Point) -> None:
    _tube(drawing, middle, inside=5, outside=3)


def _wheel_ridge(drawing: Drawing, middle: Point) -> None:
    _tube(drawing, middle, outside=4)
    for side in _SIDES:
        _ridge(drawing, middle, side)


def _wheel_half(drawing: Drawing, middle: Point) -> None:
    x, y = middle
    drawing.rectangle((x + _BACK, y - _R + _T), _END - _BACK, 2 * (_R - _T), "fig-bore")
    _wall(drawing, middle, -1, inside=5, outside=3)
    _wall(drawing, middle, 1, outside=4)
    drawing.line((x + _BACK - 4, y), (x + _END + 12, y), "fig-axis")
    _ridge(drawing, middle, 1)


def _saw_burrs(drawing: Drawing, middle: Point) -> None:
    _tube(drawing, middle)
    _inner_burrs(drawing, middle)
    _outer_burrs(drawing, middle)


def _saw_outside(drawing: Drawing, middle: Point) -> None:
    _tube(drawing, middle, outside=4)
    _inner_burrs(drawing, middle)


def _smooth(drawing: Drawing, middle: Point) -> None:
    _tube(drawing, middle, inside=4, outside=3)


def _saw_taped(drawing: Drawing, middle: Point) -> None:
    _tube(drawing, middle)
    _inner_burrs(drawing, middle)
    for side in _SIDES:
        _part(drawing, middle, side, [(-26, -_T), (2, -_T), (2, 0), (7, 0), (7, -_T - 5), (-26, -_T - 5)], "fig-skin")


def _saw_folded(drawing: Drawing, middle: Point) -> None:
    _tube(drawing, middle, outside=3)
    for side in _SIDES:
        _part(drawing, middle, side, [(0, -3), (1, 5), (-12, 9), (-16, 5), (-4, 3), (-3, 0)])


def _coupling(drawing: Drawing, middle: Point) -> None:
    """The coupling that the end will sit in, dashed."""
    x, y = middle
    drawing.rectangle((x + _END - 34, y - _R - 7), 76, 2 * _R + 14, "fig-hidden")


def _hidden_ridge(drawing: Drawing, middle: Point) -> None:
    _wheel_ridge(drawing, middle)
    _coupling(drawing, middle)


def _hidden_reamed(drawing: Drawing, middle: Point) -> None:
    _wheel_reamed(drawing, middle)
    _coupling(drawing, middle)


def _thread_field(drawing: Drawing, middle: Point) -> None:
    _tube(drawing, middle, inside=4)
    x, y = middle
    for side in _SIDES:
        threads(drawing, (x + _END - 40, y + side * (_R - 4)), 8, -side * 5.0)


def _thread_works(drawing: Drawing, middle: Point) -> None:
    """A coupling in one piece with the tube: wider, its threads inside."""
    _tube(drawing, middle)
    x, y = middle
    for side in _SIDES:
        corners = [(-16, _R), (-6, _R + 9), (34, _R + 9), (34, _R), (0, _R)]
        section(drawing, [(x + _END + along, y + side * off) for along, off in corners], "fig-tube", leftward=side > 0)
        threads(drawing, (x + _END + 2, y + side * _R), 6, side * 5.0)


def _scratched(drawing: Drawing, middle: Point) -> None:
    _smooth(drawing, middle)
    x, y = middle
    for side in _SIDES:
        for at in range(-46, -8, 8):
            drawing.line((x + at, y + side * (_R + 1)), (x + at + 5, y + side * (_R + 6)), "fig-thin")


#: How each cut end is drawn round the middle of its cell.
ENDS: Mapping[str, Cell] = MappingProxyType(
    {
        "wheel-reamed": _wheel_reamed,
        "wheel-ridge": _wheel_ridge,
        "wheel-half": _wheel_half,
        "saw-burrs": _saw_burrs,
        "saw-outside": _saw_outside,
        "saw-filed": _smooth,
        "saw-reamed": _smooth,
        "saw-taped": _saw_taped,
        "saw-folded": _saw_folded,
        "hidden-ridge": _hidden_ridge,
        "hidden-reamed": _hidden_reamed,
        "thread-field": _thread_field,
        "thread-works": _thread_works,
        "scratched": _scratched,
    }
)
