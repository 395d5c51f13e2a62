"""
The gain of a bend: what an arc takes less than its two legs to the corner. Inches and degrees.

Two ways of measuring legs, never mixed: to the corner of the centrelines (`gain`), or to the back of the bend, the
usual way in the field (`outside_gain`). Mixing them loses one outside diameter in a 90.
"""

from __future__ import annotations

from msgspec import Struct

from trainer.calc.arcs import arc_and_gain
from trainer.calc.calculation import Calculation, Output
from trainer.calc.inputs import Input, Kind
from trainer.calc.message import Message, Quantity
from trainer.calc.trace import steps
from trainer.calc.trig import tan

__all__ = ["GAIN", "Gain", "gain"]

RADIUS = Input("radius", Kind.LENGTH, "4-1/2 in", "in", above=0, most=600)
ANGLE = Input("angle", Kind.ANGLE, "90", "deg", above=0, below=180)
OUTSIDE_DIAMETER = Input("outside_diameter", Kind.LENGTH, "0.706 in", "in", optional=True, above=0)


class Gain(Struct, frozen=True):
    """
    What one bend takes of the tube.

    Args:
        gain: Both legs to the corner of the centrelines, less the tube that they take [in].
        outside_gain: Both legs to the corner of the outsides, in a 90 the back of the bend, less the tube [in]; None
            without an outside diameter.
        developed_length: Of the arc, along the centreline [in].
        setback: From either end of the arc to the corner of the centrelines [in].
    """

    gain: float
    outside_gain: float | None
    developed_length: float
    setback: float


@steps(setback="in", developed_length="in")
def gain(radius: float, angle: float, outside_diameter: float | None = None) -> Gain:
    """
    What a bend takes of the tube, and what it takes less than sharp corners do.

    Args:
        radius: Of the bend, to the centreline of the tubing [in], above 0.
        angle: Of the bend [deg], above 0, below 180.
        outside_diameter: Of the tubing [in], for legs measured to the back.

    Raises:
        InputError: When one lies outside its range, or the tubing is thicker than the bend is wide.

    Source: geometry.

    >>> result = gain(4.5, 90, 0.706)
    >>> round(result.gain, 4), round(result.outside_gain, 4), round(result.developed_length, 4)
    (1.9314, 2.6374, 7.0686)
    """
    RADIUS.check(radius)
    ANGLE.check(angle)
    OUTSIDE_DIAMETER.check(outside_diameter)
    _check_inside(radius, outside_diameter)
    setback = radius * tan(angle / 2)
    arc, less = arc_and_gain(radius, angle)
    developed_length = arc
    if outside_diameter is None:
        return Gain(less, None, developed_length, setback)
    outside_gain = _outside_gain(less, angle, outside_diameter)
    return Gain(less, outside_gain, developed_length, setback)


@steps(outside_gain="in")
def _outside_gain(gain: float, angle: float, outside_diameter: float) -> float:
    """Each leg reaches half a diameter times the tangent of half the angle further on the outside."""
    outside_gain = gain + outside_diameter * tan(angle / 2)
    return outside_gain  # noqa: RET504 - the assignment is the step


def _check_inside(radius: float, outside_diameter: float | None) -> None:
    if outside_diameter is None or outside_diameter <= 2 * radius:
        return
    most = Message("gain.most", {"most": Quantity(2 * radius, "in")})
    reason = Message("gain.too-thick", {"radius": Quantity(radius, "in")})
    raise OUTSIDE_DIAMETER.refuse(reason, OUTSIDE_DIAMETER.written(outside_diameter), most)


GAIN = Calculation(
    name="gain",
    function=gain,
    inputs=(RADIUS, ANGLE, OUTSIDE_DIAMETER),
    outputs=(
        Output("gain", "in", "arc"),
        Output("outside_gain", "in", "arc", True),
        Output("developed_length", "in", "arc"),
        Output("setback", "in", "arc"),
    ),
    sources=("geometry of an arc between two straight legs",),
    area="bending",
    example_inputs={"radius": "4-1/2 in", "angle": "90", "outside_diameter": "0.706 in"},
)
