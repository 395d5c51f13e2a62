"""
What tape and eye find on a bent tube. Inches and degrees.

Legs are numbered from 0, bends too; bend 0 lies between leg 0 and leg 1. Distances are taken from the first end of the
tube along its first leg; for the other end measure `tube.from_other_end()`.

- across: `leg_offset`, `back_to_back`, `crown_height`, `out_of_plane`, `leg_angle`
- along: `along_first_leg`, `corner_distance`, `full_height_distance`, `stub_height`
- on the tube, for marks made on a bent piece: `station_from_back`
"""

from __future__ import annotations

from trainer.calc.layout_reach import bend_reach
from trainer.calc.layout_space import Vector
from trainer.calc.layout_tube import Centreline, Leg

__all__ = [
    "along_first_leg",
    "back_to_back",
    "corner",
    "corner_distance",
    "crossing",
    "crown_height",
    "full_height_distance",
    "leg_angle",
    "leg_offset",
    "out_of_plane",
    "station_from_back",
    "stub_height",
]


def corner(tube: Centreline, bend: int) -> Vector:
    """The sharp corner of a bend: where the centrelines of the legs beside it, drawn on, meet."""
    return crossing(tube.legs[bend], tube.legs[bend + 1])


def crossing(one: Leg, other: Leg) -> Vector:
    """Where the lines of two legs meet, or in the middle of where they pass each other most closely."""
    return (_nearest_on(one, other) + _nearest_on(other, one)) * 0.5


def along_first_leg(tube: Centreline, point: Vector) -> float:
    """From the first end, along the first leg, to where a point stands beside it [in]."""
    return (point - tube.start).dot(tube.legs[0].along)


def corner_distance(tube: Centreline, bend: int) -> float:
    """
    From the first end, along the first leg, to the sharp corner of a bend [in].

    >>> from trainer.calc.layout import BendProgram, Move, lay_out
    >>> round(corner_distance(lay_out(BendProgram((Move(8, 0, 90, 4),), 10)), 0), 6)
    12.0
    """
    return along_first_leg(tube, corner(tube, bend))


def full_height_distance(tube: Centreline, bend: int) -> float:
    """From the first end, along the first leg, to where the arc of a bend ends and the tube has its full height [in]."""
    return along_first_leg(tube, tube.bends[bend].end)


def leg_offset(tube: Centreline, one: int, other: int) -> float:
    """
    Between two parallel legs, centre to centre, which equals bottom to bottom [in].

    Where the legs are not parallel: from the line of the one to where the other begins.
    """
    return (tube.legs[other].start - tube.legs[one].start).across(tube.legs[one].along).length


def leg_angle(tube: Centreline, one: int, other: int) -> float:
    """Between the directions in which two legs run [deg]; 0 for parallel ones."""
    return tube.legs[one].along.angle_to(tube.legs[other].along)


def back_to_back(tube: Centreline, one: int, other: int, outside_diameter: float) -> float:
    """Over the outsides of two parallel legs [in]."""
    return leg_offset(tube, one, other) + outside_diameter


def stub_height(tube: Centreline, outside_diameter: float) -> float:
    """
    From the first end to the back of the first bend [in].

    >>> from trainer.calc.layout import BendProgram, Move, lay_out
    >>> round(stub_height(lay_out(BendProgram((Move(8, 0, 90, 4),), 10)), 1), 6)
    12.5
    """
    along = tube.legs[0].along
    return bend_reach(tube.bends[0], along, outside_diameter) - tube.start.dot(along)


def crown_height(tube: Centreline, bend: int) -> float:
    """How far the arc of a bend gets away from the line of the first leg, centre to centre or bottom to bottom [in]."""
    first, arc = tube.legs[0], tube.bends[bend]
    away = (arc.at(arc.length / 2) - first.start).across(first.along).unit
    return bend_reach(arc, away, 0.0) - first.start.dot(away)


def out_of_plane(tube: Centreline) -> float:
    """How far the other end lies beside the plane of the first bend, left above 0, seen along with that bend up [in]."""
    bend = tube.bends[0]
    return (tube.end - tube.start).dot(bend.toward.cross(bend.along))


def station_from_back(tube: Centreline, leg: int, distance: float, outside_diameter: float) -> float:
    """
    Where a mark on a leg lies along the tube when the tape starts at the back of the bend before that leg.

    Args:
        tube: The tube as bent so far.
        leg: The leg that is marked, from 1.
        distance: From the back of the bend [in].
        outside_diameter: Of the tube [in].

    Returns:
        Along the tube from its first end [in].
    """
    marked = tube.legs[leg]
    back = bend_reach(tube.bends[leg - 1], -marked.along, outside_diameter) + marked.start.dot(marked.along)
    return marked.station + distance - back


def _nearest_on(leg: Leg, other: Leg) -> Vector:
    """The point of a leg's line that comes nearest to the line of another, not parallel."""
    across = leg.along.across(other.along)
    gap = (other.start - leg.start).across(other.along)
    return leg.at(gap.dot(across) / across.dot(across))
