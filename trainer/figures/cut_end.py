"""The end of a tube in section, with one wall enlarged: as a saw leaves it, as a wheel cutter leaves it, reamed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType

from msgspec import Struct

from trainer.figures.callout import Callout, callouts
from trainer.figures.fitting_parts import BORE, OUTSIDE, break_off
from trainer.figures.section import Axle
from trainer.figures.svg import Drawing, Point, polyline
from trainer.figures.words import Words

__all__ = ["CUT_ENDS", "CutEnd", "draw_cut_end"]

#: Units for an inch of the whole tube, and of the enlarged wall.
_SCALE = 150.0
_ENLARGED = 1000.0
#: The frame of the enlargement: left, top, right, bottom; and where the wall's end and middle lie in it.
_FRAME = (178.0, -84.0, 346.0, 76.0)
_END: Point = (284.0, 38.0)
_MIDDLE = (BORE + OUTSIDE) / 2


class CutEnd(Struct, frozen=True):
    """
    What a tool left at the end of a tube. Points are (along the tube, from the bore's surface outward) [in].

    Args:
        end: Corners of the wall's end, from the bore to the outside.
        burrs: Loose edges that hang on it.
        conductor: How a conductor lies over the edge, on its lower side.
        labels: What is named below and above: point and name of its word.
    """

    end: tuple[Point, ...]
    burrs: tuple[tuple[Point, ...], ...]
    conductor: tuple[Point, ...]
    above: tuple[tuple[Point, str, str], ...]
    below: tuple[tuple[Point, str, str], ...]


_THICK = OUTSIDE - BORE

_SAWN = CutEnd(
    end=((0.0, 0.0), (0.0, _THICK)),
    burrs=(
        (
            (-0.008, 0.0),
            (-0.002, -0.007),
            (0.002, -0.004),
            (0.006, -0.012),
            (0.009, -0.002),
            (0.013, -0.005),
            (0.0, 0.009),
        ),
        (
            (0.0, _THICK - 0.01),
            (0.008, _THICK - 0.002),
            (0.007, _THICK + 0.008),
            (0.001, _THICK + 0.003),
            (-0.006, _THICK),
        ),
    ),
    conductor=((-0.106, -0.013), (0.004, -0.013), (0.03, -0.008), (0.062, 0.006)),
    above=(((-0.06, -0.04), "conductor", "middle"), ((0.006, -0.011), "inner-burr", "right")),
    below=(((-0.07, 0.03), "wall", "middle"), ((0.005, _THICK + 0.006), "outer-burr", "right")),
)

_WHEEL = CutEnd(
    end=(
        (-0.05, 0.0),
        (-0.022, -0.009),
        (-0.004, -0.034),
        (0.006, -0.037),
        (0.004, 0.0),
        (-0.012, 0.028),
        (-0.045, _THICK),
    ),
    burrs=(),
    conductor=((-0.106, -0.03), (-0.03, -0.037), (0.0, -0.04), (0.03, -0.036), (0.062, -0.026)),
    above=(((-0.06, -0.06), "conductor", "middle"), ((0.003, -0.036), "inner-ridge", "right")),
    below=(((-0.07, 0.03), "wall", "middle"), ((-0.02, 0.032), "rolled-edge", "right")),
)

_REAMED = CutEnd(
    end=((-0.024, 0.0), (-0.01, 0.006), (0.0, 0.022), (0.0, _THICK - 0.006), (-0.006, _THICK)),
    burrs=(),
    conductor=((-0.106, -0.001), (-0.024, -0.001), (-0.006, 0.006), (0.03, 0.02), (0.062, 0.03)),
    above=(((-0.06, -0.03), "conductor", "middle"), ((-0.01, 0.006), "reamed-inside", "right")),
    below=(((-0.07, 0.03), "wall", "middle"), ((-0.003, _THICK - 0.003), "dressed-outside", "right")),
)

#: What may be drawn, by the state of the end.
CUT_ENDS: Mapping[str, CutEnd] = MappingProxyType({"sawn": _SAWN, "wheel": _WHEEL, "reamed": _REAMED})


def draw_cut_end(state: str, words: Words, key: str = "") -> str:
    """
    The end of a tube in section; beside it its lower wall enlarged, with a conductor lying over the edge.

    Args:
        state: A key of `CUT_ENDS`.
        words: Sentences.
        key: Tells apart equal figures on one page.
    """
    drawing, cut = Drawing(), CUT_ENDS[state]
    _whole_tube(drawing, cut)
    large = Axle(drawing, (_END[0], _END[1] - _MIDDLE * _ENLARGED), _ENLARGED)
    _enlarged_wall(large, cut)
    left, top, right, bottom = _FRAME
    drawing.rectangle((left, top), right - left, bottom - top, "fig-frame")
    edges = (
        callouts(drawing, _labels(large, cut.above, words), top - 2, above=True),
        callouts(drawing, _labels(large, cut.below, words), bottom + 2, above=False),
    )
    title, about = words(f"cut-end.{state}.title"), words(f"cut-end.{state}.about")
    return drawing.finish(edges[0] - 4, edges[1] + 4, title, about, key)


def _face(points: Sequence[Point]) -> list[Point]:
    """Points from the bore's surface outward as (along, radius)."""
    return [(along, BORE + outward) for along, outward in points]


def _whole_tube(drawing: Drawing, cut: CutEnd) -> None:
    """Both walls at the tube's end, and the square that is enlarged."""
    axle = Axle(drawing, (118.0, 0.0), _SCALE)
    end = _face(cut.end)
    axle.bore(-0.66, end[0][0], BORE)
    axle.ring([(-0.66, BORE), (-0.66, OUTSIDE), *reversed(end)], "fig-tube")
    for side in (1, -1):
        for burr in cut.burrs:
            drawing.shape([axle.at(x, side * radius) for x, radius in _face(burr)], "fig-burr")
    break_off(axle, -0.66, OUTSIDE)
    axle.centre_line(-0.7, 0.1)
    x, y = axle.at(0, -_MIDDLE)
    drawing.rectangle((x - 14, y - 14), 28, 28, "fig-frame")
    drawing.line((x + 14, y - 14), (_FRAME[0], _FRAME[1]), "fig-zoom")
    drawing.line((x + 14, y + 14), (_FRAME[0], _FRAME[3]), "fig-zoom")


def _enlarged_wall(axle: Axle, cut: CutEnd) -> None:
    """The lower wall inside the frame, its outside down, and the conductor on it."""
    back = (_FRAME[0] - _END[0]) / _ENLARGED
    corners = [(back, BORE), (back, OUTSIDE), *reversed(_face(cut.end))]
    axle.cut([(x, -radius) for x, radius in corners], "fig-tube", leftward=True)
    for burr in cut.burrs:
        axle.drawing.shape([axle.at(x, -radius) for x, radius in _face(burr)], "fig-burr")
    under = [axle.at(x, -radius) for x, radius in _face(cut.conductor)]
    over = [(x, y - 34) for x, y in reversed(under)]
    axle.drawing.path(polyline([*under, *over], closed=True), "fig-skin")
    axle.drawing.path(polyline([(x, y - 17) for x, y in under]), "fig-core")


def _labels(axle: Axle, named: Sequence[tuple[Point, str, str]], words: Words) -> list[Callout]:
    """Labels of points on the enlarged wall."""
    return [
        Callout(axle.at(along, -BORE - outward), (words(f"part.{name}"),), side=side, dot=True)
        for (along, outward), name, side in named
    ]
