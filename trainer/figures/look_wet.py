"""Details of a box on a wet wall, large: the air behind it, its drain hole, its entry, tube and screws."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from trainer.calc.look_over import THINGS
from trainer.figures.hatch import section
from trainer.figures.svg import Drawing, Point

__all__ = ["WET", "wall"]

#: Units of the drawing for an inch, of the air and of the drain hole.
_SCALE = 56.0

Cell = Callable[[Drawing, Point], None]


def wall(drawing: Drawing, left: float, top: float, bottom: float, wide: float = 22.0) -> None:
    """The wall in section."""
    section(drawing, [(left, top), (left + wide, top), (left + wide, bottom), (left, bottom)], "fig-obstacle")


def _air(name: str) -> Cell:
    """Wall, air to scale, and the back of the box, from the side."""

    def draw(drawing: Drawing, middle: Point) -> None:
        x, y = middle
        gap = THINGS[name].value * _SCALE
        wall(drawing, x - 52, y - 42, y + 42)
        drawing.rectangle((x - 30 + gap, y - 34), 66, 68, "fig-box")
        for at in (y - 26, y + 18):
            drawing.rectangle((x - 30, at), gap, 8, "fig-strap")

    return draw


def _drain(name: str) -> Cell:
    """The underside of the box in section, the hole to scale."""

    def draw(drawing: Drawing, middle: Point) -> None:
        x, y = middle
        half = THINGS[name].value * _SCALE / 2
        drawing.rectangle((x - 60, y - 36), 120, 60, "fig-box")
        for start, end in ((x - 60, x - half), (x + half, x + 60)):
            section(drawing, [(start, y + 24), (end, y + 24), (end, y + 32), (start, y + 32)], "fig-part")
        for drop in (y + 36, y + 42):
            drawing.line((x, drop), (x, drop + 3), "fig-mark")

    return draw


def _entry(*, gland: bool, seal: bool) -> Cell:
    """A connector on top of the box, standing: with a gland nut or with a screw, with a soft ring or without."""

    def draw(drawing: Drawing, middle: Point) -> None:
        x, y = middle
        drawing.rectangle((x - 66, y + 24), 132, 20, "fig-box")
        drawing.rectangle((x - 13, y - 46), 26, 60, "fig-tube")
        drawing.rectangle((x - 19, y - 10), 38, 34, "fig-part")
        if gland:
            drawing.shape([(x - 16, y - 26), (x + 16, y - 26), (x + 23, y - 16), (x + 23, y - 4), (x - 23, y - 4), (x - 23, y - 16)], "fig-nut")  # fmt: skip
        else:
            drawing.rectangle((x + 19, y - 1), 10, 6, "fig-screw")
            drawing.rectangle((x + 29, y - 4), 6, 12, "fig-screw")
        if seal:
            for side in (-1, 1):
                drawing.circle((x + side * 16, y - 27), 3.4, "fig-seal")
        _rain(drawing, middle)

    return draw


def _through(*, ring: bool) -> Cell:
    """The connector's shoulder on the box's top, in section, with a soft ring between or with none."""

    def draw(drawing: Drawing, middle: Point) -> None:
        x, y = middle
        drawing.rectangle((x - 18, y - 44), 36, 88, "fig-bore")
        for side in (-1, 1):
            body = [(18, -44), (26, -44), (26, -14), (40, -14), (40, -4), (26, -4), (26, 40), (18, 40)]
            section(drawing, [(x + side * along, y + off) for along, off in body], "fig-part", leftward=side > 0)
            sheet = [(28, 4 if ring else -3), (72, 4 if ring else -3), (72, 10 if ring else 3), (28, 10 if ring else 3)]
            section(drawing, [(x + side * along, y + off) for along, off in sheet], "fig-box")
            if ring:
                drawing.circle((x + side * 34, y), 4.0, "fig-seal")
            nut = 11.0 if ring else 4.0
            drawing.rectangle((x + 26 if side > 0 else x - 42, y + nut), 16, 10, "fig-nut")

    return draw


def _tube(*, off: bool) -> Cell:
    """Wall and tube from the side, its straps with spacers or without."""

    def draw(drawing: Drawing, middle: Point) -> None:
        x, y = middle
        gap = 14.0 if off else 0.0
        wall(drawing, x - 40, y - 44, y + 44)
        drawing.rectangle((x - 18 + gap, y - 44), 20, 88, "fig-tube")
        for at in (y - 26, y + 18):
            drawing.rectangle((x - 18 + gap, at), 24, 9, "fig-strap")
            if off:
                drawing.rectangle((x - 18, at), gap, 9, "fig-part")

    return draw


def _screws(*, coated: bool) -> Cell:
    """A screw through the box's foot into the wall; bare steel with rust on its head and below it."""

    def draw(drawing: Drawing, middle: Point) -> None:
        x, y = middle
        wall(drawing, x - 46, y - 42, y + 42, 34)
        drawing.rectangle((x - 12, y - 22), 12, 44, "fig-part")
        drawing.rectangle((x - 36, y - 4), 36, 8, "fig-screw")
        drawing.shape([(x, y - 12), (x + 8, y - 8), (x + 8, y + 8), (x, y + 12)], "fig-screw")
        if not coated:
            for dx, dy in ((3, -5), (5, 0), (2, 5), (3, 18), (2, 26), (4, 34)):
                drawing.circle((x + dx, y + dy), 2.0, "fig-seal")

    return draw


def _rain(drawing: Drawing, middle: Point) -> None:
    x, y = middle
    for nth in (0, 1, 2, 6, 7, 8):
        left = x - 64 + nth * 16
        drawing.line((left, y - 42), (left - 4, y - 32), "fig-dim")


#: How each detail is drawn round the middle of its cell.
WET: Mapping[str, Cell] = MappingProxyType(
    {
        **{name: _air(name) for name in ("air-eighth", "air-quarter", "air-half")},
        **{name: _drain(name) for name in ("drain-sixteenth", "drain-fit", "drain-wide")},
        "entry-listed": _entry(gland=True, seal=True),
        "entry-plain": _entry(gland=True, seal=False),
        "entry-screw": _entry(gland=False, seal=False),
        "wall-ring": _through(ring=True),
        "wall-bare": _through(ring=False),
        "tube-off": _tube(off=True),
        "tube-tight": _tube(off=False),
        "screws-coated": _screws(coated=True),
        "screws-plain": _screws(coated=False),
    }
)
