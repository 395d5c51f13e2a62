"""Joints of a run in section, large: screws on their tubes or not, nuts driven home or not, rings in or left out."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from trainer.figures.hatch import section
from trainer.figures.look_ends import threads
from trainer.figures.svg import Drawing, Point

__all__ = ["JOINTS", "connector"]

#: Half a coupling's length, radius of the tube, and the wall of a fitting.
_HALF, _R, _W = 36.0, 15.0, 6.0
_OUT = 74.0
_SIDES = (-1, 1)

Cell = Callable[[Drawing, Point], None]


def _tubes(drawing: Drawing, middle: Point) -> None:
    """Two tubes up against the stop."""
    x, y = middle
    for left in (x - _OUT, x + 2):
        drawing.rectangle((left, y - _R), _OUT - 2, 2 * _R, "fig-tube")
        drawing.rectangle((left, y - _R + 4), _OUT - 2, 2 * _R - 8, "fig-bore")


def _body(drawing: Drawing, middle: Point, half: float = _HALF) -> None:
    """The body of a coupling with its stop, cut above and below."""
    x, y = middle
    for side in _SIDES:
        corners = [(-half, _R), (-2, _R), (-2, _R - 4), (2, _R - 4), (2, _R), (half, _R), (half, _R + _W), (-half, _R + _W)]  # fmt: skip
        section(drawing, [(x + along, y + side * off) for along, off in corners], "fig-part", leftward=side > 0)


def _screw(drawing: Drawing, middle: Point, along: float, lift: float) -> None:
    """A set screw from above, its end `lift` off the tube."""
    x, foot = middle[0] + along, middle[1] - _R - lift
    drawing.rectangle((x - 3, foot - 12), 6, 12, "fig-screw")
    drawing.rectangle((x - 6, foot - 18), 12, 6, "fig-screw")


def _hole(drawing: Drawing, middle: Point, along: float) -> None:
    drawing.rectangle((middle[0] + along - 3, middle[1] - _R - _W), 6, _W, "fig-bore")


def _set_screws(right: float | None) -> Cell:
    """A set-screw coupling: how far the right screw stands off its tube, None where it is missing."""

    def draw(drawing: Drawing, middle: Point) -> None:
        _tubes(drawing, middle)
        _body(drawing, middle)
        _screw(drawing, middle, -20, 0)
        if right is None:
            _hole(drawing, middle, 20)
        else:
            _hole(drawing, middle, 20)
            _screw(drawing, middle, 20, right)

    return draw


def _nut(drawing: Drawing, middle: Point, sign: int, off: float, *, ring: bool) -> None:
    """A gland nut at one end, `off` away from the body, and the ring under it."""
    x, y = middle
    start = _HALF - 10 + off
    if off:
        for side in _SIDES:
            threads(drawing, (x + (_HALF - 12 if sign > 0 else -_HALF), y + side * (_R + _W)), 2, -side * 3.0)
    for side in _SIDES:
        corners = [(start, _R + _W + 1), (start + 22, _R + 1), (start + 22, _R + _W + 6), (start, _R + _W + 6)]
        section(drawing, [(x + sign * along, y + side * off_) for along, off_ in corners], "fig-nut", leftward=side < 0)
        if ring:
            wedge = [(_HALF + off / 2, _R), (_HALF + 8 + off / 2, _R), (_HALF + 8 + off / 2, _R + 4)]
            drawing.shape([(x + sign * along, y + side * off_) for along, off_ in wedge], "fig-seal")


def _glands(*, off: float = 0.0, ring: bool = True, seals: bool = False, rain: bool = False) -> Cell:
    """A compression coupling: how far its right nut is off, whether its right ring is in, soft rings, rain on it."""

    def draw(drawing: Drawing, middle: Point) -> None:
        if rain:
            _rain(drawing, middle)
        _tubes(drawing, middle)
        _body(drawing, middle)
        _nut(drawing, middle, -1, 0.0, ring=True)
        _nut(drawing, middle, 1, off, ring=ring)
        if seals:
            for along in (-_HALF + 14, _HALF - 14):
                for side in _SIDES:
                    drawing.circle((middle[0] + along, middle[1] + side * (_R + 3)), 3.4, "fig-seal")

    return draw


def _rain(drawing: Drawing, middle: Point) -> None:
    x, y = middle
    for nth in range(9):
        left = x - 66 + nth * 16
        drawing.line((left, y - 44), (left - 4, y - 34), "fig-dim")


def _rain_screw(drawing: Drawing, middle: Point) -> None:
    """A set-screw coupling in the rain, its screws below."""
    _rain(drawing, middle)
    _tubes(drawing, middle)
    _body(drawing, middle)
    for along in (-20, 20):
        x, foot = middle[0] + along, middle[1] + _R
        drawing.rectangle((x - 3, foot), 6, 12, "fig-screw")
        drawing.rectangle((x - 6, foot + 12), 12, 6, "fig-screw")


def _rigid_thread(drawing: Drawing, middle: Point) -> None:
    """A thick coupling on threads of the thin tube."""
    x, y = middle
    _tubes(drawing, middle)
    for side in _SIDES:
        corners = [(-30, _R), (30, _R), (30, _R + 12), (-30, _R + 12)]
        section(drawing, [(x + along, y + side * off) for along, off in corners], "fig-part", leftward=side > 0)
        threads(drawing, (x - 50, y + side * (_R - 1)), 20, -side * 4.0)


def _change(drawing: Drawing, middle: Point) -> None:
    """Tube in a gland at the left, thick threaded conduit at the right."""
    x, y = middle
    drawing.rectangle((x - _OUT, y - _R), _OUT - 2, 2 * _R, "fig-tube")
    drawing.rectangle((x - _OUT, y - _R + 4), _OUT - 2, 2 * _R - 8, "fig-bore")
    drawing.rectangle((x + 2, y - _R - 2), _OUT - 2, 2 * _R + 4, "fig-obstacle")
    drawing.rectangle((x + 2, y - _R + 6), _OUT - 2, 2 * _R - 12, "fig-bore")
    _body(drawing, middle)
    _nut(drawing, middle, -1, 0.0, ring=True)
    for side in _SIDES:
        threads(drawing, (x + 4, y + side * (_R + 1)), 7, -side * 4.0)


def connector(nut: float | None) -> Cell:
    """A connector in the wall of a box: how far its locknut is off the wall, None where there is none."""

    def draw(drawing: Drawing, middle: Point) -> None:
        x, y = middle
        wall = x + 22
        drawing.rectangle((x - _OUT, y - _R), 74, 2 * _R, "fig-tube")
        drawing.rectangle((x - _OUT, y - _R + 4), 74, 2 * _R - 8, "fig-bore")
        for side in _SIDES:
            corners = [(-34, _R), (14, _R), (14, _R - 4), (48, _R - 4), (48, _R + 2), (22, _R + 2), (22, _R + 9), (12, _R + 9), (12, _R + _W), (-34, _R + _W)]  # fmt: skip
            section(drawing, [(x + along, y + side * off) for along, off in corners], "fig-part", leftward=side > 0)
            sheet = [(wall, y + side * (_R + 4)), (wall + 4, y + side * (_R + 4)), (wall + 4, y + side * 44), (wall, y + side * 44)]  # fmt: skip
            section(drawing, sheet, "fig-box")
            threads(drawing, (wall + 5, y + side * (_R + 1)), 4, -side * 3.0)
            if nut is not None:
                left = wall + 4 + nut
                drawing.shape([(left, y + side * (_R + 2)), (left + 8, y + side * (_R + 2)), (left + 8, y + side * (_R + 12)), (left, y + side * (_R + 12))], "fig-nut")  # fmt: skip
        _screw(drawing, middle, -18, 0)

    return draw


#: How each joint is drawn round the middle of its cell.
JOINTS: Mapping[str, Cell] = MappingProxyType(
    {
        "screw-both": _set_screws(0.0),
        "screw-loose": _set_screws(10.0),
        "screw-missing": _set_screws(None),
        "nuts-tight": _glands(),
        "nuts-hand": _glands(off=11.0),
        "ring-missing": _glands(ring=False),
        "rigid-thread": _rigid_thread,
        "change-fitting": _change,
        "rain-listed": _glands(seals=True, rain=True),
        "rain-plain": _glands(rain=True),
        "rain-screw": _rain_screw,
        "locknut-tight": connector(0.0),
        "locknut-loose": connector(10.0),
        "locknut-none": connector(None),
    }
)
