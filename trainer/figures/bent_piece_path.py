"""The way of a bent piece for its drawing: its legs, a jog where an offset is, bent on a shoe that has the gain."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from trainer.calc.arcs import radius_of_gain
from trainer.calc.bent_cut_length import Side
from trainer.calc.handbook import offset_constants
from trainer.calc.layout import lay_out
from trainer.calc.layout_path import Turn, fit_path, path_of_legs
from trainer.calc.layout_space import Vector
from trainer.calc.layout_tube import Centreline
from trainer.calc.message import InputError
from trainer.calc.shoes import DEFAULT_SHOE, Shoe

__all__ = ["Piece", "bent_piece"]

#: Angles of an offset by which its shrink is known, the usual one last for a shrink that no handbook has [deg].
_ANGLES = (10.0, 15.0, 22.5, 45.0, 60.0, 30.0)
#: More 90s than this are drawn as stairs, so that no leg crosses another.
_AROUND = 2

_BEYOND = {Side.BACK: 0.5, Side.CENTRE: 0.0, Side.INSIDE: -0.5}


class Piece(Struct, frozen=True):
    """
    The piece in its plane.

    Args:
        tube: Its middle line; the first leg runs along x, the second along z.
        corners: The first end, or the face of its box, then the sharp corners, then the other end [in].
        diameter: Outside diameter of the tube [in].
        beyond: From a corner of the middle lines to where its legs were measured to [in]; below zero to the inside.
    """

    tube: Centreline
    corners: tuple[Vector, ...]
    diameter: float
    beyond: float


def bent_piece(inputs: Mapping[str, Any]) -> Piece | None:
    """
    The piece that these inputs of `bent_cut_length` ask for.

    Returns:
        The piece; None where its arcs have no room.
    """
    shoe = _shoe(inputs)
    legs, last = inputs["legs"], len(inputs["legs"]) - 1
    beyond = _BEYOND[Side(inputs.get("measured") or Side.BACK)] * shoe.outside_diameter
    to_middle = [leg - beyond * ((number > 0) + (number < last)) for number, leg in enumerate(legs)]
    if min(to_middle) <= 0:
        return None
    turns = [Turn(90.0, 180.0 * (number % 2) if last > _AROUND else 0.0) for number in range(last)]
    corners = path_of_legs(to_middle, turns)
    way = list(corners)
    if depth := inputs.get("offset_depth"):
        longest = max(range(len(legs)), key=lambda number: to_middle[number])
        way, corners = _jogged(corners, longest, depth, _angle(inputs.get("shrink_per_inch")))
    try:
        program = fit_path(_without_ends(way, inputs), shoe).program
        return Piece(lay_out(program), corners, shoe.outside_diameter, beyond)
    except (InputError, ZeroDivisionError):
        return None


def _shoe(inputs: Mapping[str, Any]) -> Shoe:
    """A shoe of this gain; the usual one where no shoe has it."""
    diameter = inputs.get("outside_diameter") or DEFAULT_SHOE.outside_diameter
    radius = radius_of_gain(inputs["gain"], diameter)
    return replace(DEFAULT_SHOE, radius=radius if radius > diameter / 2 else 5 * diameter, outside_diameter=diameter)


def _angle(shrink_per_inch: float | None) -> float:
    """The angle whose handbook shrink this is."""
    known = [angle for angle in _ANGLES if (of := offset_constants(angle)) and of.shrink_per_inch == shrink_per_inch]
    return known[0] if known else _ANGLES[-1]


def _jogged(corners: Sequence[Vector], leg: int, depth: float, angle: float) -> tuple[list[Vector], tuple[Vector, ...]]:
    """All points of the way with an offset in the middle of a leg, and the corners moved by it."""
    start, end = corners[leg], corners[leg + 1]
    along = (end - start).unit
    if leg:
        aside = -(corners[leg] - corners[leg - 1]).unit
    else:
        aside = (corners[2] - corners[1]).unit if len(corners) > 2 else Vector(0.0, 0.0, 1.0)
    run, over = depth / math.tan(math.radians(angle)), aside * depth
    rise = start + along * (((end - start).length - run) / 2)
    moved = (*corners[: leg + 1], *(corner + over for corner in corners[leg + 1 :]))
    return [*moved[: leg + 1], rise, rise + along * run + over, *moved[leg + 1 :]], moved


def _without_ends(way: list[Vector], inputs: Mapping[str, Any]) -> list[Vector]:
    """The way of the tube itself: at a box it ends before the face."""
    short = (inputs.get("stands_out") or 0.0) - (inputs.get("goes_in") or 0.0)
    fitted = inputs.get("fitted_ends") or 0
    first, last = way[0], way[-1]
    if fitted > 1:
        first += (way[1] - way[0]).unit * short
    if fitted:
        last -= (way[-1] - way[-2]).unit * short
    return [first, *way[1:-1], last]
