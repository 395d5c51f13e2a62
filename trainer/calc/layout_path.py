"""
The way back: from a wanted path with sharp corners to the bend program that runs along it. Inches and degrees.

A path is given by its points in space, or by its legs from corner to corner with the turns between them; either way the
corners are sharp, and the arcs of the shoe cut them.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from msgspec import Struct

from trainer.calc.layout import BendProgram, Move
from trainer.calc.layout_space import START, Frame, Vector
from trainer.calc.length import write_length
from trainer.calc.message import InputError, Message, Quantity
from trainer.calc.shoes import Shoe
from trainer.calc.tables import table

__all__ = ["LEAST_ANGLE", "MOST_ANGLE", "FittedPath", "Turn", "fit_path", "path_of_legs"]

#: The most that a hand bender bends in one go [deg]: common practice, no source.
MOST_ANGLE = 90.0
#: Less than this can't be told from straight tube, as angles are held to 1 or 2 degrees [deg]: common practice.
LEAST_ANGLE = 1.0

#: What is left of rounding [in], [deg].
_FORGIVEN = 1e-6

_MOST_DEGREES: float = table("bends")["total"]["limit"]


class Turn(Struct, frozen=True):
    """
    How a path turns at a corner.

    Args:
        angle: How far, above 0 [deg].
        roll: To which side, against the corner before: 0 on in the same plane to the same side, 180 back again, 90 to
            the left as seen with the turn before upward [deg]. At the first corner against upward.
    """

    angle: float
    roll: float = 0.0


class FittedPath(Struct, frozen=True):
    """
    A program and where it starts: `lay_out(fitted.program, fitted.start)` runs along the path.

    Args:
        program: The bends; the first roll is 0.
        start: At the first point, along the first leg, up toward where the first bend goes.
    """

    program: BendProgram
    start: Frame


class _Corner(Struct, frozen=True):
    """A corner that has to be bent: at the end of a leg of this length, in this plane."""

    leg: float
    along: Vector
    after: Vector

    @property
    def angle(self) -> float:
        return self.along.angle_to(self.after)


def path_of_legs(legs: Sequence[float], turns: Sequence[Turn], start: Frame = START) -> tuple[Vector, ...]:
    """
    The points of a path: both ends and the corners.

    Args:
        legs: From corner to corner [in]; the first and the last from and to the tube's ends.
        turns: Between them, one fewer than legs.
        start: Where the path begins and which way.

    Raises:
        ValueError: When the counts don't fit.

    >>> path_of_legs([10, 5], [Turn(90)])[1:]
    (Vector(x=10.0, y=0.0, z=0.0), Vector(x=10.0, y=0.0, z=5.0))
    """
    frame = start
    points = [frame.at]
    for leg, turn in zip(legs, (*turns, None), strict=True):
        frame = frame.fed(leg)
        points.append(frame.at)
        if turn:
            frame = frame.rolled(turn.roll).bent(turn.angle, 0.0)
    return tuple(points)


def fit_path(points: Sequence[Vector], shoe: Shoe, *, most_angle: float = MOST_ANGLE) -> FittedPath:
    """
    The bend program that follows a path with arcs of the shoe's radius.

    Args:
        points: Both ends and the sharp corners, in order [in]. A point on a straight line is no corner.
        shoe: The bender's shoe.
        most_angle: The most that one bend can make [deg].

    Raises:
        InputError: When there are fewer than two points or one twice in a row, a corner can't be bent, the arcs of two
            corners don't fit between them, or the bends come to more than is allowed between two pull points.

    >>> from trainer.calc.shoes import DEFAULT_SHOE
    >>> program = fit_path([Vector(0, 0, 0), Vector(20, 0, 0), Vector(20, 0, 15)], DEFAULT_SHOE).program
    >>> round(program.moves[0].feed, 3), round(program.length, 3)
    (15.5, 33.069)
    """
    corners, last = _corners(points)
    for number, corner in enumerate(corners, start=1):
        _check_angle(corner.angle, number, most_angle)
    _check_total(sum(corner.angle for corner in corners))
    setbacks = [shoe.radius * math.tan(math.radians(corner.angle) / 2) for corner in corners]
    straights = _straights([*(corner.leg for corner in corners), last], setbacks)
    moves = tuple(
        Move(straight, roll, corner.angle, shoe.radius)
        for straight, roll, corner in zip(straights, _rolls(corners), corners, strict=False)
    )
    return FittedPath(BendProgram(moves, straights[-1]), _start(points, corners))


def _corners(points: Sequence[Vector]) -> tuple[list[_Corner], float]:
    """The corners that turn, and the length of the leg behind the last one."""
    if len(points) < 2:
        raise _refuse(Message("layout.path.points"), f"{len(points)}", Message("layout.take.points"), "2")
    corners: list[_Corner] = []
    leg, along = 0.0, (points[1] - points[0])
    for number, (here, there) in enumerate(pairwise(points), start=1):
        way = there - here
        if way.length < _FORGIVEN:
            reason = Message("layout.path.same-point", {"point": number + 1, "before": number})
            raise _refuse(reason, f"{number + 1}", Message("layout.take.apart"), "12 in")
        if along.angle_to(way) > _FORGIVEN:
            corners.append(_Corner(leg, along.unit, way.unit))
            leg = 0.0
        leg, along = leg + way.length, way
    return corners, leg


def _check_angle(angle: float, number: int, most: float) -> None:
    if LEAST_ANGLE - _FORGIVEN <= angle <= most + _FORGIVEN:
        return
    reason = "layout.path.sharp" if angle > most else "layout.path.flat"
    bounds = {"least": Quantity(LEAST_ANGLE, "deg"), "most": Quantity(most, "deg")}
    told = Message(reason, {"corner": number, "angle": Quantity(angle, "deg"), **bounds})
    raise _refuse(told, f"{angle:.4g}°", Message("layout.take.corner", bounds), "45°")


def _check_total(total: float) -> None:
    if total > _MOST_DEGREES + _FORGIVEN:
        limit = {"limit": Quantity(_MOST_DEGREES, "deg")}
        told = Message("layout.path.total", {"total": Quantity(total, "deg"), **limit})
        raise _refuse(told, f"{total:.4g}°", Message("layout.take.total", limit), "90°, 90°, 90°")


def _straights(legs: Sequence[float], setbacks: Sequence[float]) -> list[float]:
    """What the arcs leave of each leg."""
    straights: list[float] = []
    for number, (leg, before, behind) in enumerate(zip(legs, [0.0, *setbacks], [*setbacks, 0.0], strict=True), start=1):
        taken = before + behind
        if leg < taken - _FORGIVEN:
            sizes = {"length": Quantity(leg, "in"), "arcs": Quantity(taken, "in")}
            told = Message("layout.path.short-leg", {"leg": number, **sizes})
            least = Message("layout.take.leg", {"least": Quantity(taken, "in")})
            raise _refuse(told, write_length(leg), least, write_length(math.ceil(taken)))
        straights.append(max(leg - taken, 0.0))
    return straights


def _rolls(corners: Sequence[_Corner]) -> list[float]:
    """How far each corner's plane is turned against the one before."""
    rolls: list[float] = []
    up: Vector | None = None
    for corner in corners:
        toward = corner.after.across(corner.along).unit
        frame = Frame(START.at, corner.along, up or toward)
        rolls.append(math.degrees(math.atan2(toward.dot(frame.left), toward.dot(frame.up))))
        up = Frame(START.at, corner.along, toward).bent(corner.angle, 0.0).up
    return rolls


def _start(points: Sequence[Vector], corners: Sequence[_Corner]) -> Frame:
    """At the first point; a straight path is up where z is, or x where it runs along z."""
    along = (points[1] - points[0]).unit
    if corners:
        return Frame(points[0], along, corners[0].after.across(along).unit)
    aside = min((START.up, START.along), key=lambda way: abs(way.dot(along)))
    return Frame(points[0], along, aside.across(along).unit)


def _refuse(reason: Message, given: str, accepted: Message, example: str) -> InputError:
    return InputError(reason, given=given, accepted=accepted, example=example, field="path")
