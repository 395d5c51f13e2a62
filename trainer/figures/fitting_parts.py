"""
Parts that several fittings share, at the real proportions of trade size 1/2.

The axis' zero is the outer face of the box wall; positions outside the box are negative. Shapes are plain ones, drawn
from how such parts work, after no maker's part.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from trainer.calc.tables import table
from trainer.figures.section import Axle
from trainer.figures.svg import Point

__all__ = [
    "BORE",
    "BOX_WALL_LABEL",
    "LOCKNUT_LABEL",
    "OUTSIDE",
    "STOP",
    "THREAD",
    "THROAT",
    "TUBE_LABEL",
    "WALL",
    "Labels",
    "Named",
    "box_wall",
    "break_off",
    "in_the_wall",
    "locknut",
    "nipple",
    "screw",
    "seal",
    "thread",
    "tube",
]

_TUBE = table("raceway")["emt"]["rows"][0]
#: Radii of the tube of trade size 1/2, outside and inside [in].
OUTSIDE = _TUBE["outside_diameter"] / 2
BORE = _TUBE["inside_diameter"] / 2
#: Where the tube's end meets the stop of a connector [in].
STOP = -0.24
#: Radius of the opening through a connector, behind the stop [in].
THROAT = 0.315
WALL = 0.07
THREAD = 0.41


def tube(axle: Axle, start: float, end: float = STOP) -> None:
    """The tube from `start`, where it is broken off, to its end."""
    axle.bore(start, end, BORE)
    axle.ring([(start, OUTSIDE), (end, OUTSIDE), (end, BORE), (start, BORE)], "fig-tube", leftward=True)
    break_off(axle, start, OUTSIDE)


def break_off(axle: Axle, along: float, radius: float) -> None:
    """A wavy line where a tube is broken off in the drawing."""
    (x, top), (_, bottom) = axle.at(along, radius + 0.05), axle.at(along, -radius - 0.05)
    third = (bottom - top) / 3
    axle.drawing.path(
        f"M {x:.2f} {top:.2f} C {x + 7:.2f} {top + third:.2f} {x - 7:.2f} {bottom - third:.2f} {x:.2f} {bottom:.2f}",
        "fig-break",
    )


def box_wall(axle: Axle, along: float = 0.0, reach: float = 0.92) -> None:
    """The sheet of a box, cut through a knockout."""
    axle.ring([(along, 0.44), (along + WALL, 0.44), (along + WALL, reach), (along, reach)], "fig-box", leftward=True)


def locknut(axle: Axle, along: float = WALL, *, leftward: bool = False) -> None:
    """A locknut whose face toward the outside lies at `along`."""
    axle.ring(
        [(along, THREAD), (along + 0.13, THREAD), (along + 0.13, 0.54), (along + 0.09, 0.58), (along, 0.58)],
        "fig-part",
        leftward=leftward,
    )


def nipple() -> Sequence[Point]:
    """The profile of a connector's box end, from its shoulder's outer corner to the stop: thread, throat, stop."""
    return [
        (0.0, 0.56),
        (0.0, THREAD),
        (0.5, THREAD),
        (0.5, THROAT + 0.04),
        (0.46, THROAT),
        (STOP, THROAT),
        (STOP, OUTSIDE + 0.008),
    ]


def thread(axle: Axle, start: float, end: float) -> None:
    """The ground of an outside thread: a thin line under its crest, as threads are drawn."""
    for side in (1, -1):
        axle.drawing.line(axle.at(start, side * (THREAD - 0.03)), axle.at(end, side * (THREAD - 0.03)), "fig-thin")


def seal(axle: Axle, along: float, radius: float, size: float = 0.055) -> None:
    """A soft sealing ring, cut."""
    for side in (1, -1):
        axle.drawing.circle(axle.at(along, side * radius), size * axle.scale, "fig-seal")


class Named(Struct, frozen=True):
    """
    A point of a fitting that a label names.

    Args:
        along: Along the axis [in].
        off: Off the axis [in], upward positive.
        name: Of the word, "figure.part.<name>".
        side: On which side of the point the label stands if it can.
    """

    along: float
    off: float
    name: str
    side: str = "middle"


class Labels(Struct, frozen=True):
    """What is named above and below a fitting, and how far from the axis the labels begin [in]."""

    above: tuple[Named, ...]
    below: tuple[Named, ...]
    highest: float = 0.98
    lowest: float = 0.98


def screw(axle: Axle, along: float, radius: float) -> None:
    """A set screw above the axis: its end on the tube, its head outside a body of this radius."""
    left, right = along - 0.09, along + 0.09
    neck, top = radius + 0.06, radius + 0.21
    head = [(right, neck), (right + 0.05, neck), (right + 0.05, top), (left - 0.05, top), (left - 0.05, neck)]
    axle.solid([(left, OUTSIDE), (right, OUTSIDE), *head, (left, neck)], "fig-screw")
    axle.drawing.line(axle.at(along, top), axle.at(along, top - 0.08), "fig-thin")


def in_the_wall(axle: Axle) -> None:
    """Box wall, locknut and thread of a connector, and its axis."""
    box_wall(axle)
    locknut(axle)
    thread(axle, 0.0, 0.5)
    axle.centre_line(-2.35, 0.72)


TUBE_LABEL = Named(-1.8, -0.33, "tube")
BOX_WALL_LABEL = Named(0.035, 0.8, "box-wall", "right")
LOCKNUT_LABEL = Named(0.14, -0.55, "locknut", "right")
