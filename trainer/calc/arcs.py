"""What the arc of a shoe takes of the tube, and where it lies beside its mark. Inches and degrees; steps of every bend."""

from __future__ import annotations

from trainer.calc.trace import steps
from trainer.calc.trig import pi, tan

__all__ = ["arc_and_gain", "radius_of_gain", "shift_beside_mark"]


@steps(arc="in", gain="in")
def arc_and_gain(radius: float, angle: float) -> tuple[float, float]:
    """
    Length of an arc along the centreline, and what it takes less than its sharp corner does [in].

    Args:
        radius: To the centreline [in].
        angle: Of the bend, above 0, below 180 [deg].

    Source: geometry.

    >>> [round(length, 4) for length in arc_and_gain(4.5, 90)]
    [7.0686, 1.9314]
    """
    arc = pi * radius * angle / 180
    gain = 2 * radius * tan(angle / 2) - arc
    return arc, gain


@steps(shift="in")
def shift_beside_mark(take_up: float, radius: float, outside_diameter: float, arc: float) -> float:
    """
    From the take-up mark to the middle of the arc, away from the hook [in].

    Args:
        take_up: Of the shoe [in].
        radius: Of the shoe, to the centreline [in].
        outside_diameter: Of the tubing [in].
        arc: Length of the arc along the centreline [in].

    Source: geometry; the take-up reaches to the back of a 90, which stands radius and half a diameter past its start.
    """
    shift = take_up - radius - outside_diameter / 2 + arc / 2
    return shift  # noqa: RET504 - the assignment is the step


@steps(radius="in")
def radius_of_gain(outside_gain: float, outside_diameter: float) -> float:
    """
    Radius of a shoe, to the centreline, whose 90 takes so much less than its two legs measured to the back [in].

    Args:
        outside_gain: Both legs to the back of the bend, less the straight tube that they were made of [in].
        outside_diameter: Of the tubing [in].

    Source: geometry.

    >>> round(radius_of_gain(2.625, 0.706), 2)
    4.47
    """
    radius = (outside_gain - outside_diameter) / (2 - pi / 2)
    return radius  # noqa: RET504 - the assignment is the step
