"""Details at boxes, large: how deep, how full, how held, how tight, what the conductors lie on, where the strap is."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from trainer.calc.look_over import THINGS
from trainer.figures.look_joints import connector
from trainer.figures.look_wet import wall
from trainer.figures.svg import Drawing, Point

__all__ = ["BOX"]

#: Units of the drawing for an inch: of the depth of a box, and along a tube.
_DEEP, _ALONG = 34.0, 2.6

Cell = Callable[[Drawing, Point], None]


def _depth(name: str) -> Cell:
    """A device box in the wall from above, its depth to scale, the receptacle in its mouth."""

    def draw(drawing: Drawing, middle: Point) -> None:
        x, y = middle
        deep = THINGS[name].value * _DEEP
        drawing.rectangle((x - 30, y - 26), deep, 52, "fig-box")
        drawing.rectangle((x - 30 + deep, y - 34), 5, 68, "fig-part")
        drawing.rectangle((x - 30 + deep - 22, y - 15), 22, 30, "fig-nut")
        for off in (-9, 9):
            drawing.line((x - 28, y + off * 2), (x - 30 + deep - 22, y + off), "fig-conductor")
        drawing.line((x - 30, y + 34), (x - 30 + deep, y + 34), "fig-dim")
        for at in (x - 30, x - 30 + deep):
            drawing.line((at, y + 28), (at, y + 40), "fig-dim-thin")

    return draw


def _count(name: str) -> Cell:
    """A square box from the front, open, with so many conductors that end in it."""

    def draw(drawing: Drawing, middle: Point) -> None:
        x, y = middle
        count = round(THINGS[name].value)
        drawing.rectangle((x - 40, y - 40), 80, 80, "fig-box")
        for nth in range(count):
            level = y - 32 + nth * 64 / (count - 1)
            side = -1 if nth % 2 else 1
            drawing.line((x + side * 40, level), (x - side * 12, level), "fig-conductor")

    return draw


def _strap(name: str) -> Cell:
    """A box, the tube out of it, and the nearest strap, its distance to scale."""

    def draw(drawing: Drawing, middle: Point) -> None:
        x, y = middle
        away = x - 46 + THINGS[name].value * _ALONG
        drawing.rectangle((x - 74, y - 16), 28, 32, "fig-box")
        drawing.rectangle((x - 46, y - 6), 122, 12, "fig-tube")
        drawing.rectangle((away - 4, y - 10), 8, 20, "fig-strap")
        drawing.line((away, y + 10), (away, y + 18), "fig-strap")
        drawing.line((x - 46, y + 26), (away, y + 26), "fig-dim")
        for at in (x - 46, away):
            drawing.line((at, y + 20), (at, y + 32), "fig-dim-thin")

    return draw


def _held(*, screwed: bool) -> Cell:
    """A box from the side: screwed to the wall, or away from it on the tube alone."""

    def draw(drawing: Drawing, middle: Point) -> None:
        x, y = middle
        gap = 0.0 if screwed else 20.0
        wall(drawing, x - 60, y - 44, y + 44)
        left = x - 38 + gap
        drawing.rectangle((left, y - 4), 52, 44, "fig-box")
        drawing.rectangle((left + 20, y - 46), 14, 42, "fig-tube")
        drawing.rectangle((x - 38, y - 34), left + 38 - x + 36, 8, "fig-strap")
        if screwed:
            for at in (y + 6, y + 26):
                drawing.rectangle((x - 54, at), 20, 4, "fig-screw")
                drawing.rectangle((x - 34, at - 4), 5, 12, "fig-screw")

    return draw


def _edge(*, large: bool, bushing: bool) -> Cell:
    """Conductors out of a connector in section and around its edge, which is bare or has a bushing on it."""

    def draw(drawing: Drawing, middle: Point) -> None:
        x, y = middle
        drawing.rectangle((x - 4, y - 44), 6, 88, "fig-box")
        drawing.rectangle((x - 70, y - 20), 90, 40, "fig-part")
        drawing.rectangle((x - 70, y - 14), 90, 28, "fig-bore")
        if bushing:
            for top in (y - 25, y + 11):
                drawing.rectangle((x + 14, top), 13, 14, "fig-skin")
        name = "fig-wire" if large else "fig-conductor"
        for off in (-8, 0, 8):
            bend = 30 if bushing else 23
            drawing.path(f"M {x - 70:.1f} {y + off:.1f} L {x + 6:.1f} {y + off:.1f} Q {x + bend:.1f} {y + off:.1f} {x + bend + 6 + off:.1f} {y + 44:.1f}", name)  # fmt: skip

    return draw


#: How each detail is drawn round the middle of its cell.
BOX: Mapping[str, Cell] = MappingProxyType(
    {
        **{name: _depth(name) for name in ("depth-shallow", "depth-enough", "depth-deep")},
        **{name: _count(name) for name in ("count-eight", "count-nine", "count-ten")},
        **{name: _strap(name) for name in ("strap-near", "strap-limit", "strap-far")},
        "box-screwed": _held(screwed=True),
        "box-carried": _held(screwed=False),
        "nut-tight": connector(0.0),
        "nut-loose": connector(10.0),
        "edge-small": _edge(large=False, bushing=False),
        "edge-bushing": _edge(large=True, bushing=True),
        "edge-bare": _edge(large=True, bushing=False),
    }
)
